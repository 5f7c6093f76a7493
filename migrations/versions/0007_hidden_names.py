"""Nicknames that a host has hidden."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0007"
down_revision: str | None = "0006"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


def upgrade() -> None:
    op.create_table(
        "notebook_hidden",
        sa.Column("notebook_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("hidden_by", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["notebook_id"],
            ["notebook.id"],
            name=op.f("fk_notebook_hidden_notebook_id"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("notebook_id", name=op.f("pk_notebook_hidden")),
    )


def downgrade() -> None:
    op.drop_table("notebook_hidden")
