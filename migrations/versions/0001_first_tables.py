"""The first tables, and what the database refuses."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision: str = "0001"
down_revision: str | None = None
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


# A published version never changes and never goes. The log only grows. A project and its log go when their
# notebook has gone, and only so: when a row goes because the one it refers to went, that one is gone already
# when the trigger asks. A later migration that alters one of these tables in a batch copies it, and has to
# make its triggers again.
TRIGGERS = {
    "pattern_version_stays_as_it_is": """
        BEFORE UPDATE ON pattern_version
        BEGIN SELECT RAISE(ABORT, 'a published version never changes'); END""",
    "pattern_version_stays": """
        BEFORE DELETE ON pattern_version
        BEGIN SELECT RAISE(ABORT, 'a published version never goes'); END""",
    "entry_stays_as_it_is": """
        BEFORE UPDATE ON entry
        BEGIN SELECT RAISE(ABORT, 'what was logged never changes'); END""",
    "entry_stays": """
        BEFORE DELETE ON entry WHEN EXISTS (SELECT 1 FROM project WHERE id = OLD.project_id)
        BEGIN SELECT RAISE(ABORT, 'what was logged goes only with its whole notebook'); END""",
    "project_stays": """
        BEFORE DELETE ON project WHEN EXISTS (SELECT 1 FROM notebook WHERE id = OLD.notebook_id)
        BEGIN SELECT RAISE(ABORT, 'a project goes only with its whole notebook'); END""",
}


def upgrade() -> None:
    make_tables()
    for name, body in TRIGGERS.items():
        op.execute(f"CREATE TRIGGER {name} {body}")


def make_tables() -> None:
    op.create_table(
        "host",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sign_in_name", sa.String(), nullable=False),
        sa.Column("shown_name", sa.String(), nullable=False),
        sa.Column("password_hash", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_host")),
        sa.UniqueConstraint("sign_in_name", name=op.f("uq_host_sign_in_name")),
    )
    op.create_table(
        "host_invite",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("expires_at", sa.DateTime(), nullable=False),
        sa.Column("used_at", sa.DateTime(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_host_invite")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_host_invite_token_hash")),
    )
    op.create_table(
        "along",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("host_id", sa.Integer(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("welcome", sa.Text(), nullable=False),
        sa.Column("join_code", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["host_id"], ["host.id"], name=op.f("fk_along_host_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_along")),
        sa.UniqueConstraint("join_code", name=op.f("uq_along_join_code")),
    )
    with op.batch_alter_table("along", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_along_host_id"), ["host_id"], unique=False)

    op.create_table(
        "host_session",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(), nullable=False),
        sa.Column("host_id", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("last_seen_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["host_id"], ["host.id"], name=op.f("fk_host_session_host_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_host_session")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_host_session_token_hash")),
    )
    with op.batch_alter_table("host_session", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_host_session_host_id"), ["host_id"], unique=False)

    op.create_table(
        "notebook",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("along_id", sa.Integer(), nullable=False),
        sa.Column("secret_hash", sa.String(), nullable=False),
        sa.Column("nickname", sa.String(), nullable=False),
        sa.Column("terms", sa.String(), nullable=False),
        sa.Column("units", sa.String(), nullable=False),
        sa.Column("joined_at", sa.DateTime(), nullable=False),
        sa.Column("last_seen_at", sa.DateTime(), nullable=False),
        sa.CheckConstraint("terms IN ('US', 'UK')", name=op.f("ck_notebook_terms")),
        sa.CheckConstraint("units IN ('cm', 'in')", name=op.f("ck_notebook_units")),
        sa.ForeignKeyConstraint(["along_id"], ["along.id"], name=op.f("fk_notebook_along_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_notebook")),
        sa.UniqueConstraint("secret_hash", name=op.f("uq_notebook_secret_hash")),
    )
    with op.batch_alter_table("notebook", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_notebook_along_id"), ["along_id"], unique=False)

    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("along_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("draft_text", sa.Text(), nullable=False),
        sa.Column("draft_saved_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["along_id"], ["along.id"], name=op.f("fk_part_along_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
    )
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_part_along_id_position"), ["along_id", "position"], unique=False)

    op.create_table(
        "pattern_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("published_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_pattern_version_part_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pattern_version")),
        sa.UniqueConstraint("part_id", "number", name=op.f("uq_pattern_version_part_id_number")),
    )
    op.create_table(
        "project",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("notebook_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("pattern_version_id", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["notebook_id"], ["notebook.id"], name=op.f("fk_project_notebook_id"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_project_part_id")),
        sa.ForeignKeyConstraint(
            ["pattern_version_id"], ["pattern_version.id"], name=op.f("fk_project_pattern_version_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_project")),
        sa.UniqueConstraint("notebook_id", "part_id", name=op.f("uq_project_notebook_id_part_id")),
    )
    with op.batch_alter_table("project", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_project_part_id"), ["part_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_project_pattern_version_id"), ["pattern_version_id"], unique=False
        )

    op.create_table(
        "entry",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("project_id", sa.Integer(), nullable=False),
        sa.Column("piece", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("values_json", sa.Text(), nullable=False),
        sa.Column("at", sa.String(), nullable=False),
        sa.Column("device", sa.String(), nullable=False),
        sa.Column("device_order", sa.Integer(), nullable=False),
        sa.Column("received_at", sa.DateTime(), nullable=False),
        sa.CheckConstraint("piece IN (0, 1, 2)", name=op.f("ck_entry_piece")),
        sa.ForeignKeyConstraint(
            ["project_id"], ["project.id"], name=op.f("fk_entry_project_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entry")),
    )
    with op.batch_alter_table("entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_entry_project_id"), ["project_id"], unique=False)

    op.create_table(
        "project_place",
        sa.Column("project_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("piece", sa.Integer(), nullable=False),
        sa.Column("spot", sa.String(), nullable=True),
        sa.Column("section_title", sa.String(), nullable=False),
        sa.Column("round_label", sa.String(), nullable=False),
        sa.Column("foundation", sa.Integer(), nullable=True),
        sa.Column("size", sa.String(), nullable=True),
        sa.Column("verdict", sa.String(), nullable=False),
        sa.Column("updated_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["project_id"], ["project.id"], name=op.f("fk_project_place_project_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("project_id", name=op.f("pk_project_place")),
    )


def downgrade() -> None:
    for name in TRIGGERS:
        op.execute(f"DROP TRIGGER {name}")
    op.drop_table("project_place")
    with op.batch_alter_table("entry", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_entry_project_id"))

    op.drop_table("entry")
    with op.batch_alter_table("project", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_project_pattern_version_id"))
        batch_op.drop_index(batch_op.f("ix_project_part_id"))

    op.drop_table("project")
    op.drop_table("pattern_version")
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_part_along_id_position"))

    op.drop_table("part")
    with op.batch_alter_table("notebook", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_notebook_along_id"))

    op.drop_table("notebook")
    with op.batch_alter_table("host_session", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_host_session_host_id"))

    op.drop_table("host_session")
    with op.batch_alter_table("along", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_along_host_id"))

    op.drop_table("along")
    op.drop_table("host_invite")
    op.drop_table("host")
