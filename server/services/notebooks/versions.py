"""Moving to a newer published version of a pattern: only when she chooses, and with what changed said."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from difflib import SequenceMatcher

from sqlmodel import Session

from server.craft import making as craft
from server.craft.fabric.numbering import is_allowed
from server.services.errors import Refusal
from server.services.notebooks import logbook, places
from server.services.notebooks.desk import Desk, open_desk, planned, read_pattern
from server.storage import tables


@dataclass(frozen=True)
class ChangedText:
    """Lines of the pattern as they were and as they are now; either may be empty."""

    was: tuple[str, ...]
    now: tuple[str, ...]


@dataclass(frozen=True)
class Newer:
    """A newer version beside hers.

    worked    names of rounds she has already worked that read differently now
    hindered  why she cannot move to it; empty where she can
    """

    mine: int
    newest: int
    changes: tuple[ChangedText, ...]
    worked: tuple[str, ...]
    hindered: str


def newer(desk: Desk) -> Newer | None:
    """What a newer version would change for her; None where hers is the newest."""
    if desk.newest.id == desk.version.id:
        return None
    worked, hindered = _meets_log(desk)
    return Newer(
        mine=desk.version.number,
        newest=desk.newest.number,
        changes=changed_text(desk.version.text, desk.newest.text),
        worked=worked,
        hindered=hindered,
    )


def move(
    session: Session, notebook_id: int, part_id: int, *, to_number: int, state: int | None, now: datetime
) -> None:
    """Put her project on the newest version, the one whose changes she was shown (`to_number`)."""
    desk = open_desk(session, notebook_id, part_id)
    if desk.version.number == to_number:
        return  # sent twice
    if desk.newest.number != to_number or (state is not None and state != desk.state):
        raise logbook.Overtaken("There is news since this page was made. Read it again, then choose.")
    _, hindered = _meets_log(desk)
    if hindered:
        raise Refusal(hindered)
    project = session.get(tables.Project, desk.project_id)
    assert project is not None  # without a project her version is the newest
    project.pattern_version_id = desk.newest.id
    session.add(project)
    session.flush()
    places.refresh(session, open_desk(session, notebook_id, part_id), now)


def changed_text(was: str, now: str) -> tuple[ChangedText, ...]:
    """What differs between two texts, line by line; lines that only moved their blanks are equal."""
    old = [" ".join(line.split()) for line in was.splitlines() if line.strip()]
    new = [" ".join(line.split()) for line in now.splitlines() if line.strip()]
    blocks = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return tuple(
        ChangedText(tuple(old[a:b]), tuple(new[c:d])) for kind, a, b, c, d in blocks if kind != "equal"
    )


def _meets_log(desk: Desk) -> tuple[tuple[str, ...], str]:
    """Rounds already worked that read differently in the newest version, and why her log would not carry
    over.

    Her log names rounds by their address in the pattern. It carries over where every address she has used
    leads to the round of the same section and label there too.
    """
    if desk.making.settled is None:
        return (), ""
    text = desk.newest.text
    hindered = _numbers_hindered(desk, desk.making.settled)
    if hindered:
        return (), hindered
    differing: dict[str, None] = {}
    for piece in desk.pieces:
        mine = desk.plan(piece)
        theirs = craft.piece_plan(read_pattern(text), desk.making, piece, desk.terms, planned)
        for spot in desk.making.pieces[piece].worked:
            old, new = mine.round_at(spot), theirs.round_at(spot)
            if old is None:
                continue
            name = f"{old.section_title}, {old.label}" if old.label else old.section_title
            if new is None or _address(new) != _address(old):
                return (), (
                    f"The new version puts other rounds where you have worked {name}. Your log would no "
                    f"longer say which "
                    "round is which, so it stays with this version."
                )
            if (new.steps, new.count_text) != (old.steps, old.count_text):
                differing[name] = None
    return tuple(differing), ""


def _address(planned: craft.PlanRound) -> tuple[str, str, str | None]:
    """What a round is known by to her: its section, its label, and whether it is one of those to fit."""
    return planned.section_title, planned.label, planned.fit


def _numbers_hindered(desk: Desk, numbers: craft.Numbers) -> str:
    """Why her numbers do not carry over to the newest version; empty where they do."""
    header = read_pattern(desk.newest.text).header
    stays = "so your log stays with this one."
    if header.pieces != desk.pattern.header.pieces:
        return f"The new version has another number of pieces, {stays}"
    if numbers.size is not None and numbers.size not in header.sizes:
        return f"The new version has no size {numbers.size}, {stays}"
    if numbers.foundation is None:
        return f"The new version begins with a chain, {stays}" if header.foundations else ""
    if numbers.size is not None and numbers.size in header.sizes and header.foundations:
        of_size = dict(zip(header.sizes, header.foundations, strict=False)).get(numbers.size)
        if of_size != numbers.foundation:
            return f"Size {numbers.size} has another number of chains in the new version, {stays}"
    if not is_allowed(header, numbers.foundation):
        return f"The new version cannot be made over {numbers.foundation} chains, {stays}"
    return ""
