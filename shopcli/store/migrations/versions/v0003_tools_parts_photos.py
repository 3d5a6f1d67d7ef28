"""Tools with their calibration, what a reading was taken with, parts fitted instead of others, and photos."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def _tool() -> None:
    op.create_table(
        "tool",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("low", sa.Float(), nullable=True),
        sa.Column("high", sa.Float(), nullable=True),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("graduation", sa.Float(), nullable=True),
        sa.Column("blades", sa.String(), nullable=False),
        sa.Column("calibrated", sa.String(), nullable=False),
        sa.Column("certificate", sa.String(), nullable=False),
        sa.Column("cycles", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("retired_at", sa.BigInteger(), nullable=True),
        sa.Column("retired_for", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_tool_name"), "tool", ["name"], unique=True)


def _photo() -> None:
    op.create_table(
        "photo",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=True),
        sa.Column("finding_id", sa.Integer(), nullable=True),
        sa.Column("file", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("size", sa.Integer(), nullable=False),
        sa.Column("caption", sa.String(), nullable=False),
        sa.Column("taken_by", sa.Integer(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("removed_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"]),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"]),
        sa.ForeignKeyConstraint(["finding_id"], ["finding.id"]),
        sa.ForeignKeyConstraint(["taken_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_photo_card_id"), "photo", ["card_id"], unique=False)


# Text, because SQLite adds a column with its reference in one statement only, and both engines read this one.
COLUMNS = (
    ("reading", "tool_id INTEGER REFERENCES tool (id)"),
    ("reading", "tool_note VARCHAR NOT NULL DEFAULT ''"),
    ("part", "wants_serial BOOLEAN NOT NULL DEFAULT FALSE"),
    ("card_part", "instead_of INTEGER REFERENCES card_part (id)"),
    ("card_part", "reason VARCHAR NOT NULL DEFAULT ''"),
    ("card_part", "old_unit_back_at BIGINT"),
    ("card_part", "old_unit_back_by INTEGER REFERENCES person (id)"),
)


def upgrade() -> None:
    _tool()
    _photo()
    for table, column in COLUMNS:
        op.execute(f"ALTER TABLE {table} ADD COLUMN {column}")
