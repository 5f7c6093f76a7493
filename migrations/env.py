"""Runs the migrations on the connection handed over, or on the database in EVENHAND_DATA_DIR."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext
from sqlalchemy import Connection
from sqlmodel import AutoString

from server.storage.columns import UtcDateTime
from server.storage.sessions import open_engine
from server.storage.tables import METADATA


def render_item(kind: str, item: Any, autogen: AutogenContext) -> str | Literal[False]:
    """A migration is frozen: it names plain column types and nothing of ours that could change under it."""
    if kind == "type" and isinstance(item, UtcDateTime):
        return "sa.DateTime()"
    if kind == "type" and isinstance(item, AutoString):
        return "sa.String()"
    return False


def run(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=METADATA,
        render_as_batch=True,
        compare_type=True,
        render_item=render_item,
    )
    context.run_migrations()


handed_over: Connection | None = context.config.attributes.get("connection")
if handed_over is not None:
    run(handed_over)
else:
    engine = open_engine(Path(os.environ.get("EVENHAND_DATA_DIR", "var")) / "evenhand.db")
    with engine.connect().execution_options(writing=True) as own, own.begin():
        run(own)
