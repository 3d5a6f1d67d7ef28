"""The journal keeps what was asked of an act that may be taken back: taken back by mistake, it is done again."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("journal", sa.Column("asked", sa.String(), nullable=False, server_default=""))
