"""Evenings, an along's page for everyone, several hosts of one along, and who changed what."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0004"
down_revision: str | None = "0003"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


def upgrade() -> None:
    op.execute("ALTER TABLE along ADD COLUMN changed_by VARCHAR")
    op.execute("ALTER TABLE part ADD COLUMN draft_saved_by VARCHAR")
    op.create_table(
        "along_page",
        sa.Column("along_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("is_shown", sa.Boolean(), nullable=False),
        sa.Column("is_findable", sa.Boolean(), nullable=False),
        sa.Column("lets_join", sa.Boolean(), nullable=False),
        sa.Column("names_waiting", sa.Boolean(), nullable=False),
        sa.Column("skill", sa.Text(), nullable=False),
        sa.Column("materials", sa.Text(), nullable=False),
        sa.Column("cautions", sa.Text(), nullable=False),
        sa.Column("changed_at", sa.DateTime(), nullable=False),
        sa.Column("changed_by", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["along_id"], ["along.id"], name=op.f("fk_along_page_along_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("along_id", name=op.f("pk_along_page")),
        sa.UniqueConstraint("key", name=op.f("uq_along_page_key")),
    )
    op.create_table(
        "along_host",
        sa.Column("along_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("host_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("since", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["along_id"], ["along.id"], name=op.f("fk_along_host_along_id"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["host_id"], ["host.id"], name=op.f("fk_along_host_host_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("along_id", "host_id", name=op.f("pk_along_host")),
    )
    op.create_index(op.f("ix_along_host_host_id"), "along_host", ["host_id"])
    op.create_table(
        "along_host_invite",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("along_id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(), nullable=False),
        sa.Column("expires_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["along_id"], ["along.id"], name=op.f("fk_along_host_invite_along_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_along_host_invite")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_along_host_invite_token_hash")),
    )
    op.create_index(op.f("ix_along_host_invite_along_id"), "along_host_invite", ["along_id"])
    op.create_table(
        "evening",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("along_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("local_start", sa.String(), nullable=False),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("fold", sa.Integer(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("is_cancelled", sa.Boolean(), nullable=False),
        sa.Column("uid", sa.String(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("changed_at", sa.DateTime(), nullable=False),
        sa.Column("changed_by", sa.String(), nullable=False),
        sa.CheckConstraint("fold IN (0, 1)", name=op.f("ck_evening_fold")),
        sa.CheckConstraint("minutes > 0", name=op.f("ck_evening_minutes")),
        sa.ForeignKeyConstraint(
            ["along_id"], ["along.id"], name=op.f("fk_evening_along_id"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["part_id"], ["part.id"], name=op.f("fk_evening_part_id"), ondelete="SET NULL"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_evening")),
        sa.UniqueConstraint("uid", name=op.f("uq_evening_uid")),
    )
    op.create_index(op.f("ix_evening_along_id"), "evening", ["along_id"])
    op.create_index(op.f("ix_evening_part_id"), "evening", ["part_id"])


def downgrade() -> None:
    op.drop_index(op.f("ix_evening_part_id"), "evening")
    op.drop_index(op.f("ix_evening_along_id"), "evening")
    op.drop_table("evening")
    op.drop_index(op.f("ix_along_host_invite_along_id"), "along_host_invite")
    op.drop_table("along_host_invite")
    op.drop_index(op.f("ix_along_host_host_id"), "along_host")
    op.drop_table("along_host")
    op.drop_table("along_page")
    op.execute("ALTER TABLE part DROP COLUMN draft_saved_by")
    op.execute("ALTER TABLE along DROP COLUMN changed_by")
