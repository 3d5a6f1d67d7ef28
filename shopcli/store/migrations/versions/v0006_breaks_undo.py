"""Breaks beside the clock, work beyond the shop's hours that somebody stood by, and what an act changed row by row."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "work_break",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.BigInteger(), nullable=False),
        sa.Column("ended_at", sa.BigInteger(), nullable=True),
        sa.Column("corrected", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"]),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("person_id", "card_id", "started_at"):
        op.create_index(op.f(f"ix_work_break_{column}"), "work_break", [column], unique=False)
    op.create_index(
        "ix_one_open_break",
        "work_break",
        ["person_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.add_column("clock_entry", sa.Column("stood_by", sa.BigInteger(), nullable=True))
    op.add_column("journal", sa.Column("touched", sa.String(), nullable=False, server_default=""))
    op.add_column("journal", sa.Column("undid", sa.Integer(), nullable=True))
    op.create_index(op.f("ix_journal_undid"), "journal", ["undid"], unique=True)
