"""What was erased of a customer: the journal and offers may be changed to what an erasure says of the row, and to nothing else.

Each erasure writes down, in rows that are fixed themselves, which rows of the fixed tables lost words and what stands in
them since. The guards let exactly that through: only the columns of words, and only to those values.
"""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

# The columns of words; every other column of these tables stays as it is.
WORDS = {
    "journal": ("before", "after", "answer", "touched", "asked"),
    "offer": ("words", "body"),
}
KEPT = {
    "journal": ("id", "op", "at", "person_id", "act", "subject", "subject_id", "card_id", "undid"),
    "offer": (
        "id",
        "number",
        "vehicle_id",
        "customer_id",
        "card_id",
        "templates",
        "made_at",
        "made_by",
        "valid_until",
        "usual_min",
        "most_min",
        "net_minor",
        "vat_minor",
        "gross_minor",
        "most_minor",
    ),
}
NEW_TABLES = ("erasure", "erased_row")


def _told(column: str, *, sqlite: bool) -> str:
    return f"json_extract(e.told, '$.{column}')" if sqlite else f"(e.told::json ->> '{column}')"


def _allowed(table: str, *, sqlite: bool) -> str:
    """Return SQL that holds where a change makes a row what an erasure says of it."""
    same = "IS" if sqlite else "IS NOT DISTINCT FROM"
    kept = " AND ".join(f"NEW.{c} {same} OLD.{c}" for c in KEPT[table])
    words = " AND ".join(f"NEW.{c} = {_told(c, sqlite=sqlite)}" for c in WORDS[table])
    row = f"e.in_table = '{table}' AND e.row_id = OLD.id"
    return f"{kept} AND EXISTS (SELECT 1 FROM erased_row e WHERE {row} AND {words})"


def _guard_sqlite() -> None:
    for table in WORDS:
        op.execute(f"DROP TRIGGER {table}_no_update")
        op.execute(
            f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} "
            f"WHEN NOT ({_allowed(table, sqlite=True)}) "
            f"BEGIN SELECT RAISE(ABORT, '{table} rows are fixed for good'); END"
        )
    for table in NEW_TABLES:
        fixed = f"BEGIN SELECT RAISE(ABORT, '{table} rows are fixed for good'); END"
        for act in ("UPDATE", "DELETE"):
            op.execute(f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} {fixed}")
        # REPLACE walks around UPDATE and DELETE triggers.
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) {fixed}"
        )


def _guard_postgres() -> None:
    for table in WORDS:
        op.execute(
            f"CREATE OR REPLACE FUNCTION {table}_fixed() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            f"IF TG_OP = 'UPDATE' THEN IF {_allowed(table, sqlite=False)} THEN RETURN NEW; END IF; END IF; "
            f"RAISE EXCEPTION '{table} rows are fixed for good'; END $$"
        )
    for table in NEW_TABLES:
        op.execute(
            f"CREATE FUNCTION {table}_fixed() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN RAISE EXCEPTION '{table} rows are fixed for good'; END $$"
        )
        op.execute(
            f"CREATE TRIGGER {table}_fixed BEFORE UPDATE OR DELETE ON {table} "
            f"FOR EACH ROW EXECUTE FUNCTION {table}_fixed()"
        )
        op.execute(
            f"CREATE TRIGGER {table}_kept BEFORE TRUNCATE ON {table} "
            f"FOR EACH STATEMENT EXECUTE FUNCTION {table}_fixed()"
        )


def upgrade() -> None:
    op.create_table(
        "erasure",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("customer_id", sa.Integer(), sa.ForeignKey("customer.id"), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("erased_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
    )
    op.create_index("ix_erasure_customer_id", "erasure", ["customer_id"])
    op.create_table(
        "erased_row",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("erasure_id", sa.Integer(), sa.ForeignKey("erasure.id"), nullable=False),
        sa.Column("in_table", sa.String(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("told", sa.String(), nullable=False),
    )
    op.create_index("ix_erased_row_row_id", "erased_row", ["row_id"])
    (_guard_sqlite if op.get_bind().dialect.name == "sqlite" else _guard_postgres)()
