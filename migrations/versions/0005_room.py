"""What happens in the live room of an evening, as a log, and what of it a host has hidden."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0005"
down_revision: str | None = "0004"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None

# about_id alone may change, and only to NULL with the event it was about: that goes with its maker.
TRIGGERS = {
    "room_event_stays_as_it_is": """
        BEFORE UPDATE OF id, evening_id, at, kind, part_id, version_id, section, round, turn, step, words,
          seconds, notebook_id, said_by ON room_event
        BEGIN SELECT RAISE(ABORT, 'what happened in a room never changes'); END""",
    "room_event_keeps_its_question": """
        BEFORE UPDATE OF about_id ON room_event
        WHEN NEW.about_id IS NOT NULL OR EXISTS (SELECT 1 FROM room_event WHERE id = OLD.about_id)
        BEGIN SELECT RAISE(ABORT, 'what happened in a room never changes'); END""",
    "room_event_stays": """
        BEFORE DELETE ON room_event
        WHEN EXISTS (SELECT 1 FROM evening WHERE id = OLD.evening_id)
          AND (OLD.notebook_id IS NULL OR EXISTS (SELECT 1 FROM notebook WHERE id = OLD.notebook_id))
        BEGIN SELECT RAISE(ABORT, 'what happened in a room goes only with its maker or its evening'); END""",
}
KINDS = "'opened', 'closed', 'step', 'announce', 'timer', 'hand', 'lowered', 'answer', 'done', 'undone'"


def upgrade() -> None:
    op.create_table(
        "room_event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("evening_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("version_id", sa.Integer(), nullable=True),
        sa.Column("section", sa.Integer(), nullable=True),
        sa.Column("round", sa.Integer(), nullable=True),
        sa.Column("turn", sa.Integer(), nullable=True),
        sa.Column("step", sa.Integer(), nullable=True),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("seconds", sa.Integer(), nullable=True),
        sa.Column("notebook_id", sa.Integer(), nullable=True),
        sa.Column("about_id", sa.Integer(), nullable=True),
        sa.Column("said_by", sa.String(), nullable=False),
        sa.CheckConstraint(f"kind IN ({KINDS})", name=op.f("ck_room_event_kind")),
        sa.CheckConstraint("length(words) <= 500", name=op.f("ck_room_event_words")),
        sa.ForeignKeyConstraint(
            ["evening_id"], ["evening.id"], name=op.f("fk_room_event_evening_id"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_room_event_part_id")),
        sa.ForeignKeyConstraint(
            ["version_id"], ["pattern_version.id"], name=op.f("fk_room_event_version_id")
        ),
        sa.ForeignKeyConstraint(
            ["notebook_id"], ["notebook.id"], name=op.f("fk_room_event_notebook_id"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["about_id"], ["room_event.id"], name=op.f("fk_room_event_about_id"), ondelete="SET NULL"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_room_event")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_room_event_evening_id_id"), "room_event", ["evening_id", "id"])
    op.create_index(op.f("ix_room_event_notebook_id"), "room_event", ["notebook_id"])
    op.create_index(op.f("ix_room_event_about_id"), "room_event", ["about_id"])
    op.create_table(
        "room_hidden",
        sa.Column("event_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("hidden_by", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["event_id"], ["room_event.id"], name=op.f("fk_room_hidden_event_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("event_id", name=op.f("pk_room_hidden")),
    )
    for name, body in TRIGGERS.items():
        op.execute(f"CREATE TRIGGER {name} {body}")


def downgrade() -> None:
    for name in TRIGGERS:
        op.execute(f"DROP TRIGGER {name}")
    op.drop_table("room_hidden")
    op.drop_index(op.f("ix_room_event_about_id"), "room_event")
    op.drop_index(op.f("ix_room_event_notebook_id"), "room_event")
    op.drop_index(op.f("ix_room_event_evening_id_id"), "room_event")
    op.drop_table("room_event")
