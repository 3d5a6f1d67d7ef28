"""What jobs took is kept for closed cards; what is owed on a card is answered from indexes alone.

The table is filled with the first opening of the records, like those before it.
"""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "job_times",
        sa.Column("card_id", sa.Integer(), primary_key=True),
        sa.Column("template", sa.String(), primary_key=True),
        sa.Column("closed_at", sa.BigInteger(), nullable=False),
        sa.Column("listed_milli", sa.Integer(), nullable=False),
        sa.Column("seconds", sa.Integer(), nullable=False),
    )
    op.create_index("ix_job_times_closed_at", "job_times", ["closed_at"])
    op.drop_index("ix_day_hours_card_id", "day_hours")
    op.create_index("ix_day_hours_card", "day_hours", ["card_id", "template", "seconds"])
    op.create_index("ix_invoice_owed", "invoice", ["card_id", "gross_minor"])
    op.create_index("ix_credit_note_owed", "credit_note", ["card_id", "gross_minor"])
    op.create_index("ix_payment_owed", "payment", ["card_id", "amount_minor"])
    op.execute("DELETE FROM week_zone")
