"""How a maker reads the steps of a round: with abbreviations, or in full words."""

from __future__ import annotations

from alembic import op

revision: str = "0002"
down_revision: str | None = "0001"
branch_labels: tuple[str, ...] | None = None
depends_on: tuple[str, ...] | None = None


def upgrade() -> None:
    # Added in place: a batch would copy the table, and the trigger of `project` asks it for its rows.
    op.execute(
        "ALTER TABLE notebook ADD COLUMN wording VARCHAR DEFAULT 'short' NOT NULL "
        "CONSTRAINT ck_notebook_wording CHECK (wording IN ('short', 'full'))"
    )


def downgrade() -> None:
    op.execute("ALTER TABLE notebook DROP COLUMN wording")
