"""Where cards waited in a period is answered from an index alone, however many stays lie behind it."""

from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.drop_index("ix_card_stay_ended_at", "card_stay")
    op.create_index("ix_card_stay_ended", "card_stay", ["ended_at", "started_at", "waits", "card_id"])
