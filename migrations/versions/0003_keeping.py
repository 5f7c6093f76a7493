"""More keys to a notebook than one, moving to another device, receipts of what was erased, private alongs."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0003"
down_revision: str | None = "0002"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None

STAYS = """
    CREATE TRIGGER pattern_version_stays
    BEFORE DELETE ON pattern_version
    BEGIN SELECT RAISE(ABORT, 'a published version never goes'); END"""
# A pattern that came with one maker's file was published to nobody: it goes with her notebook.
STAYS_UNLESS_PRIVATE = """
    CREATE TRIGGER pattern_version_stays
    BEFORE DELETE ON pattern_version
    WHEN NOT EXISTS (
        SELECT 1 FROM part JOIN along ON along.id = part.along_id
        WHERE part.id = OLD.part_id AND along.kept_from IS NOT NULL
          AND NOT EXISTS (SELECT 1 FROM notebook WHERE notebook.along_id = along.id))
    BEGIN SELECT RAISE(ABORT, 'a published version never goes'); END"""


def upgrade() -> None:
    op.execute("ALTER TABLE along ADD COLUMN kept_from VARCHAR")
    op.execute("DROP TRIGGER pattern_version_stays")
    op.execute(STAYS_UNLESS_PRIVATE)
    op.create_table(
        "notebook_key",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("notebook_id", sa.Integer(), nullable=False),
        sa.Column("secret_hash", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("shut_out_at", sa.DateTime(), nullable=True),
        sa.CheckConstraint("how IN ('link', 'device', 'card')", name=op.f("ck_notebook_key_how")),
        sa.ForeignKeyConstraint(
            ["notebook_id"], ["notebook.id"], name=op.f("fk_notebook_key_notebook_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_notebook_key")),
        sa.UniqueConstraint("secret_hash", name=op.f("uq_notebook_key_secret_hash")),
    )
    op.create_index(op.f("ix_notebook_key_notebook_id"), "notebook_key", ["notebook_id"])
    op.create_table(
        "notebook_move",
        sa.Column("notebook_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("link_hash", sa.String(), nullable=False),
        sa.Column("words_hash", sa.String(), nullable=False),
        sa.Column("expires_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["notebook_id"], ["notebook.id"], name=op.f("fk_notebook_move_notebook_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("notebook_id", name=op.f("pk_notebook_move")),
        sa.UniqueConstraint("link_hash", name=op.f("uq_notebook_move_link_hash")),
        sa.UniqueConstraint("words_hash", name=op.f("uq_notebook_move_words_hash")),
    )
    op.create_table(
        "erasure",
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("erased_at", sa.DateTime(), nullable=False),
        sa.Column("projects", sa.Integer(), nullable=False),
        sa.Column("entries", sa.Integer(), nullable=False),
        sa.Column("keys", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_erasure")),
    )
    op.create_table(
        "erased_key",
        sa.Column("secret_hash", sa.String(), nullable=False),
        sa.Column("erasure_number", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["erasure_number"],
            ["erasure.number"],
            name=op.f("fk_erased_key_erasure_number"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("secret_hash", name=op.f("pk_erased_key")),
    )
    op.create_index(op.f("ix_erased_key_erasure_number"), "erased_key", ["erasure_number"])


def downgrade() -> None:
    op.drop_index(op.f("ix_erased_key_erasure_number"), "erased_key")
    op.drop_table("erased_key")
    op.drop_table("erasure")
    op.drop_table("notebook_move")
    op.drop_index(op.f("ix_notebook_key_notebook_id"), "notebook_key")
    op.drop_table("notebook_key")
    op.execute("DROP TRIGGER pattern_version_stays")
    op.execute(STAYS)
    op.execute("ALTER TABLE along DROP COLUMN kept_from")
