"""What the week is read from: absences, hours by day, hours sold, what was taken off, how long cards stood in a state.

The tables are filled with the first opening of the records: that wants the shop's zone, which the records do not know.
"""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def _whole(*names: str, key: tuple[str, ...] = (), kind: type = sa.Integer) -> list[sa.Column]:
    return [sa.Column(name, kind(), nullable=False, primary_key=name in key) for name in names]


def _absence() -> None:
    op.create_table(
        "absence",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("person_id", sa.Integer(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("first", sa.String(), nullable=False),
        sa.Column("last", sa.String(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("noted_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("noted_at", sa.BigInteger(), nullable=False),
        sa.Column("withdrawn_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=True),
        sa.Column("withdrawn_at", sa.BigInteger(), nullable=True),
    )
    op.create_index("ix_absence_person_id", "absence", ["person_id"])


def _hours() -> None:
    op.create_table(
        "day_hours",
        *_whole("entry_id", key=("entry_id",)),
        *_whole("day", key=("day",), kind=sa.String),
        *_whole("week", kind=sa.String),
        *_whole("person_id", "card_id", "task_id"),
        *_whole("template", kind=sa.String),
        *_whole("seconds"),
    )
    op.create_index("ix_day_hours_week", "day_hours", ["week", "person_id", "template", "card_id", "seconds"])
    op.create_index("ix_day_hours_person", "day_hours", ["person_id", "day", "seconds"])
    op.create_index("ix_day_hours_card_id", "day_hours", ["card_id"])
    op.create_table(
        "sold_hours",
        *_whole("invoice_id", "task_id", "person_id", key=("invoice_id", "task_id", "person_id")),
        *_whole("week", kind=sa.String),
        *_whole("card_id"),
        *_whole("template", kind=sa.String),
        *_whole("seconds", "minor"),
    )
    op.create_index(
        "ix_sold_hours_week",
        "sold_hours",
        ["week", "person_id", "template", "card_id", "seconds", "minor"],
    )
    op.create_index("ix_sold_hours_card_id", "sold_hours", ["card_id"])
    op.create_table(
        "taken_off",
        *_whole("invoice_id", key=("invoice_id",)),
        *_whole("week", kind=sa.String),
        *_whole("minor"),
    )
    op.create_index("ix_taken_off_week", "taken_off", ["week"])


def _stays() -> None:
    op.create_table(
        "card_stay",
        *_whole("card_id", "nth", key=("card_id", "nth")),
        *_whole("state", "waits", "why", kind=sa.String),
        sa.Column("started_at", sa.BigInteger(), nullable=False),
        sa.Column("ended_at", sa.BigInteger(), nullable=True),
    )
    op.create_index("ix_card_stay_ended_at", "card_stay", ["ended_at"])
    op.create_index("ix_card_handed_at", "card", ["handed_at"])


def upgrade() -> None:
    _absence()
    _hours()
    _stays()
    op.create_table("week_zone", *_whole("zone", key=("zone",), kind=sa.String))
