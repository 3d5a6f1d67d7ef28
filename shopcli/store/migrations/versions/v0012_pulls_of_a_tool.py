"""How often a tool was used since its calibration is asked with every look at the bench: an index answers it."""

from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_index("ix_reading_tool_id_at", "reading", ["tool_id", "at"])
