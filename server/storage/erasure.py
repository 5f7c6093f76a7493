"""Taking a notebook out of the tables, whole."""

from __future__ import annotations

from dataclasses import dataclass

from sqlmodel import Session, col, delete, select

from server.storage.scrubbing import note_due
from server.storage.tables import Along, ErasedKey, Erasure, Notebook, NotebookKey, Part, PatternVersion


def erase_rows(session: Session, notebook_id: int) -> None:
    """Delete a notebook. Its keys, moves, projects and their logs go with it (foreign keys), and so does the
    private along that came with a maker's file, once no notebook is in it. The file is to be scrubbed after
    the COMMIT.
    """
    along = session.exec(
        select(Along).where(Along.id == Notebook.along_id, Notebook.id == notebook_id)
    ).first()
    note_due(session)
    session.exec(delete(Notebook).where(col(Notebook.id) == notebook_id))
    session.flush()
    session.expire_all()
    if along is None or along.kept_from is None:
        return
    others = session.exec(select(Notebook.id).where(Notebook.along_id == along.id).limit(1)).first()
    if others is None:
        parts = select(Part.id).where(Part.along_id == along.id)
        session.exec(delete(PatternVersion).where(col(PatternVersion.part_id).in_(parts)))
        session.exec(delete(Part).where(col(Part.along_id) == along.id))
        session.exec(delete(Along).where(col(Along.id) == along.id))


@dataclass(frozen=True)
class Erased:
    """What a database knows of the notebooks that were erased from it: receipts, and hashes of keys."""

    receipts: tuple[Erasure, ...]
    keys: tuple[ErasedKey, ...]


def erased_in(session: Session) -> Erased:
    """Everything that was erased, as far as it is still known."""
    receipts = session.exec(select(Erasure)).all()
    keys = session.exec(select(ErasedKey)).all()
    return Erased(
        tuple(Erasure.model_validate(each.model_dump()) for each in receipts),
        tuple(ErasedKey.model_validate(each.model_dump()) for each in keys),
    )


def erase_again(session: Session, before: Erased) -> int:
    """In a backup that takes a database's place: erases what that database had erased since, and carries the
    receipts over. How many notebooks that were.
    """
    for receipt in before.receipts:
        session.merge(receipt)
    session.flush()
    for key in before.keys:
        session.merge(key)
    session.flush()
    erased = {key.secret_hash for key in before.keys}
    by_link = select(Notebook.id, Notebook.secret_hash)
    by_key = select(NotebookKey.notebook_id, NotebookKey.secret_hash)
    again = {
        notebook_id
        for query in (by_link, by_key)
        for notebook_id, hashed in session.exec(query).all()
        if hashed in erased and notebook_id is not None
    }
    for notebook_id in sorted(again):
        erase_rows(session, notebook_id)
    return len(again)
