"""A room's log by kind: what the host did is found among ten thousand "done"s, and one maker's among all."""

from __future__ import annotations

from alembic import op

revision: str = "0008"
down_revision: str | None = "0007"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


def upgrade() -> None:
    op.drop_index(op.f("ix_room_event_evening_id_id"), "room_event")
    op.drop_index(op.f("ix_room_event_notebook_id"), "room_event")
    op.create_index(op.f("ix_room_event_evening_id_kind"), "room_event", ["evening_id", "kind"])
    op.create_index(
        op.f("ix_room_event_notebook_id_evening_id_kind"), "room_event", ["notebook_id", "evening_id", "kind"]
    )


def downgrade() -> None:
    op.drop_index(op.f("ix_room_event_notebook_id_evening_id_kind"), "room_event")
    op.drop_index(op.f("ix_room_event_evening_id_kind"), "room_event")
    op.create_index(op.f("ix_room_event_notebook_id"), "room_event", ["notebook_id"])
    op.create_index(op.f("ix_room_event_evening_id_id"), "room_event", ["evening_id", "id"])
