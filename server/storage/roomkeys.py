"""The table of rooms' keys."""

from __future__ import annotations

from sqlalchemy import ForeignKey
from sqlmodel import Column, Field, SQLModel

from server.storage import tables as tables  # the names of constraints come from there


class RoomKey(SQLModel, table=True):
    """The key of an evening's room, as it stands in the addresses of its streams and its screen. Whoever has
    it may listen: it is no secret of anybody's, and only people of the along get it."""

    __tablename__ = "room_key"

    evening_id: int = Field(
        sa_column=Column(ForeignKey("evening.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    key: str
