"""Findings say which job would mend them, and who declined them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    for name in ("wanted", "declined_by"):
        op.add_column("finding", sa.Column(name, sa.String(), nullable=False, server_default=""))
