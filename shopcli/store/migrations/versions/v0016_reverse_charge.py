"""A customer may be one who accounts for the tax themselves."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column(
        "customer", sa.Column("reverse_charge", sa.Boolean(), nullable=False, server_default=sa.false())
    )
