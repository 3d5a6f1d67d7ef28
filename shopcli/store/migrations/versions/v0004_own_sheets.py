"""The shop's own spec sheets, and numbers that keep how they were printed, why they changed and who put them aside."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

# Text, because SQLite adds a column with its reference in one statement only, and both engines read this one.
COLUMNS = (
    "printed VARCHAR NOT NULL DEFAULT ''",
    "why VARCHAR NOT NULL DEFAULT ''",
    "replaced_by INTEGER REFERENCES person (id)",
    "replaced_for VARCHAR NOT NULL DEFAULT ''",
)


def _sheet() -> None:
    op.create_table(
        "sheet",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("under", sa.String(), nullable=False),
        sa.Column("about", sa.String(), nullable=False),
        sa.Column("facts", sa.String(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["made_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_sheet_name"), "sheet", ["name"], unique=True)


def _sheet_spec() -> None:
    op.create_table(
        "sheet_spec",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sheet_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("spec", sa.String(), nullable=False),
        sa.Column("printed", sa.String(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("entered_by", sa.Integer(), nullable=False),
        sa.Column("entered_at", sa.BigInteger(), nullable=False),
        sa.Column("replaced_at", sa.BigInteger(), nullable=True),
        sa.Column("replaced_by", sa.Integer(), nullable=True),
        sa.Column("replaced_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheet.id"]),
        sa.ForeignKeyConstraint(["entered_by"], ["person.id"]),
        sa.ForeignKeyConstraint(["replaced_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_sheet_spec_sheet_id"), "sheet_spec", ["sheet_id"], unique=False)
    # One number of a name stands on a sheet at a time, whatever two terminals do at once.
    op.create_index(
        "ix_one_standing_number",
        "sheet_spec",
        ["sheet_id", "name"],
        unique=True,
        sqlite_where=sa.text("replaced_at IS NULL"),
        postgresql_where=sa.text("replaced_at IS NULL"),
    )


def upgrade() -> None:
    _sheet()
    _sheet_spec()
    for column in COLUMNS:
        op.execute(f"ALTER TABLE vehicle_spec ADD COLUMN {column}")
