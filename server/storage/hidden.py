"""Makers' nicknames that a host has hidden: in a table of its own, so that to show one again a row goes."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from sqlalchemy import ForeignKey
from sqlmodel import Column, Field, Session, SQLModel, col, select

from server.storage.columns import UtcDateTime

HIDDEN_NAME = "a maker"


class NotebookHidden(SQLModel, table=True):
    """A notebook whose nickname no host's page shows: those are looked at by others too, on a screen."""

    __tablename__ = "notebook_hidden"

    notebook_id: int = Field(
        sa_column=Column(ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    at: datetime = Field(sa_type=UtcDateTime)
    hidden_by: str


def hidden_among(session: Session, notebook_ids: Collection[int]) -> frozenset[int]:
    """Those of them whose nicknames are hidden."""
    return frozenset(
        session.exec(
            select(NotebookHidden.notebook_id).where(col(NotebookHidden.notebook_id).in_(notebook_ids))
        ).all()
    )
