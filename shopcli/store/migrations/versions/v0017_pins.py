"""Who has a PIN: kept apart from the people, so that nothing that reads or writes down a person holds it."""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "pin",
        sa.Column("person_id", sa.Integer(), sa.ForeignKey("person.id"), primary_key=True),
        sa.Column("hash", sa.String(), nullable=False),
        sa.Column("set_at", sa.BigInteger(), nullable=False),
        sa.Column("set_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("wrong_tries", sa.Integer(), nullable=False),
        sa.Column("tried_at", sa.BigInteger(), nullable=False),
    )
    op.drop_column("person", "pin_hash")
