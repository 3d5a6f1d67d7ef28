"""The hours of every ISO week are kept summed, and what else a year of the week asks for is answered from indexes alone."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

HOURS = """
INSERT INTO week_hours (week, person_id, template, clocked_s, sold_s)
SELECT week, person_id, template, SUM(clocked), SUM(sold) FROM (
    SELECT week, person_id, template, seconds AS clocked, 0 AS sold FROM day_hours
    UNION ALL SELECT week, person_id, template, 0, seconds FROM sold_hours) q
GROUP BY week, person_id, template"""
JOBS = """
INSERT INTO week_jobs (week, template, cards, sold_s, minor, took_s)
SELECT week, template, SUM(cards), SUM(sold), SUM(net), SUM(took) FROM (
    SELECT week, template, 1 AS cards, SUM(seconds) AS sold, SUM(minor) AS net, 0 AS took FROM sold_hours
    GROUP BY week, template, card_id
    UNION ALL SELECT b.week, d.template, 0, 0, 0, d.seconds
    FROM (SELECT DISTINCT week, card_id FROM sold_hours) b JOIN day_hours d ON d.card_id = b.card_id) q
GROUP BY week, template"""


def _sums() -> None:
    op.create_table(
        "week_hours",
        sa.Column("week", sa.String(), primary_key=True),
        sa.Column("person_id", sa.Integer(), primary_key=True),
        sa.Column("template", sa.String(), primary_key=True),
        sa.Column("clocked_s", sa.Integer(), nullable=False),
        sa.Column("sold_s", sa.Integer(), nullable=False),
    )
    op.create_table(
        "week_jobs",
        sa.Column("week", sa.String(), primary_key=True),
        sa.Column("template", sa.String(), primary_key=True),
        *(sa.Column(name, sa.Integer(), nullable=False) for name in ("cards", "sold_s", "minor", "took_s")),
    )
    op.execute(HOURS)
    op.execute(JOBS)


def _indexes() -> None:
    op.drop_index("ix_card_opened_at", "card")
    op.create_index("ix_card_opened", "card", ["opened_at", "state"])
    op.drop_index("ix_card_handed_at", "card")
    op.create_index("ix_card_handed", "card", ["handed_at", "opened_at"])
    op.drop_index("ix_invoice_week", "invoice")
    op.create_index(
        "ix_invoice_weeks",
        "invoice",
        ["week", "issued_at", "net_minor", "labour_minor", "parts_minor", "parts_cost_minor"],
    )


def upgrade() -> None:
    _sums()
    _indexes()
