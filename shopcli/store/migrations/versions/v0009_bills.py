"""What goes on a bill besides work and parts, discounts, credit notes, and payments that are never changed."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def _item() -> None:
    op.create_table(
        "bill_item",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("qty_milli", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("vat", sa.String(), nullable=False),
        sa.Column("added_by", sa.Integer(), nullable=False),
        sa.Column("added_at", sa.BigInteger(), nullable=False),
        sa.Column("removed_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["added_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_bill_item_card_id"), "bill_item", ["card_id"], unique=False)


def _discount() -> None:
    op.create_table(
        "discount",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("line", sa.String(), nullable=False),
        sa.Column("charge", sa.Boolean(), nullable=False),
        sa.Column("amount_minor", sa.Integer(), nullable=True),
        sa.Column("rate_hundredths", sa.Integer(), nullable=True),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("given_by", sa.Integer(), nullable=False),
        sa.Column("given_at", sa.BigInteger(), nullable=False),
        sa.Column("removed_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["given_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_discount_card_id"), "discount", ["card_id"], unique=False)


def _credit_note() -> None:
    op.create_table(
        "credit_note",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("issued_at", sa.BigInteger(), nullable=False),
        sa.Column("issued_by", sa.Integer(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("net_minor", sa.Integer(), nullable=False),
        sa.Column("vat_minor", sa.Integer(), nullable=False),
        sa.Column("gross_minor", sa.Integer(), nullable=False),
        sa.Column("labour_minor", sa.Integer(), nullable=False),
        sa.Column("parts_minor", sa.Integer(), nullable=False),
        sa.Column("week", sa.String(), nullable=False),
        sa.Column("body", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"]),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["issued_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    for column in ("invoice_id", "card_id", "issued_at", "week"):
        op.create_index(op.f(f"ix_credit_note_{column}"), "credit_note", [column], unique=False)


def _fix_sqlite(table: str, unique: str) -> None:
    fixed = f"BEGIN SELECT RAISE(ABORT, '{table} rows are fixed for good'); END"
    for act in ("UPDATE", "DELETE"):
        op.execute(f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} {fixed}")
    # REPLACE walks around UPDATE and DELETE triggers.
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id OR {unique} = NEW.{unique}) {fixed}"
    )


def _fix_postgres(table: str, _unique: str) -> None:
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
    _item()
    _discount()
    _credit_note()
    for column in ("city", "post_code", "country", "vat_number"):
        op.add_column("customer", sa.Column(column, sa.String(), nullable=False, server_default=""))
    op.add_column("payment", sa.Column("reason", sa.String(), nullable=False, server_default=""))
    op.execute("ALTER TABLE payment ADD COLUMN reverses INTEGER REFERENCES payment (id)")
    op.create_index(op.f("ix_payment_reverses"), "payment", ["reverses"], unique=True)
    fix = _fix_sqlite if op.get_bind().dialect.name == "sqlite" else _fix_postgres
    fix("credit_note", "number")
    fix("payment", "reverses")
