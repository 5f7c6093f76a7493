"""The key of an evening's room: whoever has it may listen, and see its screen."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0006"
down_revision: str | None = "0005"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


def upgrade() -> None:
    op.create_table(
        "room_key",
        sa.Column("evening_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["evening_id"], ["evening.id"], name=op.f("fk_room_key_evening_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("evening_id", name=op.f("pk_room_key")),
    )


def downgrade() -> None:
    op.drop_table("room_key")
