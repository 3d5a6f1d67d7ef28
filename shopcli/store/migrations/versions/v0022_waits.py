"""Where cards waited is asked of the stays in which they did; half of all stays wait for nothing."""

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None

WAITING = sa.text("waits <> ''")


def upgrade() -> None:
    op.drop_index("ix_card_stay_ended", "card_stay")
    op.create_index(
        "ix_card_stay_waited",
        "card_stay",
        ["ended_at", "started_at", "waits", "card_id"],
        sqlite_where=WAITING,
        postgresql_where=WAITING,
    )
