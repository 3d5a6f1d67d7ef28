"""Suppliers, the stock as a sum of movements, prices with their past, orders, and what went back with a credit to come."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def _supplier() -> None:
    op.create_table(
        "supplier",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("phone", sa.String(), nullable=False),
        sa.Column("email", sa.String(), nullable=False),
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("usual_days", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_supplier_name"), "supplier", ["name"], unique=True)


def _orders() -> None:
    op.create_table(
        "purchase_order",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("supplier_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("sent_by", sa.Integer(), nullable=True),
        sa.Column("sent_at", sa.BigInteger(), nullable=True),
        sa.Column("cancelled_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["supplier_id"], ["supplier.id"]),
        sa.ForeignKeyConstraint(["made_by"], ["person.id"]),
        sa.ForeignKeyConstraint(["sent_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    for column in ("supplier_id", "state"):
        op.create_index(op.f(f"ix_purchase_order_{column}"), "purchase_order", [column], unique=False)
    op.create_table(
        "order_line",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("order_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("qty_milli", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("due", sa.String(), nullable=False),
        sa.Column("in_milli", sa.Integer(), nullable=False),
        sa.Column("closed_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["order_id"], ["purchase_order.id"]),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("order_id", "part_id"):
        op.create_index(op.f(f"ix_order_line_{column}"), "order_line", [column], unique=False)


def _moves() -> None:
    op.create_table(
        "stock_move",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("qty_milli", sa.Integer(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=True),
        sa.Column("order_line_id", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("moved_by", sa.Integer(), nullable=True),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"]),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["order_line_id"], ["order_line.id"]),
        sa.ForeignKeyConstraint(["moved_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("part_id", "card_id", "at"):
        op.create_index(op.f(f"ix_stock_move_{column}"), "stock_move", [column], unique=False)
    op.create_table(
        "price_change",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("order_line_id", sa.Integer(), nullable=True),
        sa.Column("changed_by", sa.Integer(), nullable=True),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"]),
        sa.ForeignKeyConstraint(["order_line_id"], ["order_line.id"]),
        sa.ForeignKeyConstraint(["changed_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_price_change_part_id"), "price_change", ["part_id"], unique=False)


def _sent_back() -> None:
    op.create_table(
        "sent_back",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("supplier_id", sa.Integer(), nullable=True),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("card_part_id", sa.Integer(), nullable=True),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("qty_milli", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("credit_minor", sa.Integer(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("sent_by", sa.Integer(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("credited_minor", sa.Integer(), nullable=True),
        sa.Column("credited_by", sa.Integer(), nullable=True),
        sa.Column("credited_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["supplier_id"], ["supplier.id"]),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"]),
        sa.ForeignKeyConstraint(["card_part_id"], ["card_part.id"]),
        sa.ForeignKeyConstraint(["sent_by"], ["person.id"]),
        sa.ForeignKeyConstraint(["credited_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("part_id", "card_part_id"):
        op.create_index(op.f(f"ix_sent_back_{column}"), "sent_back", [column], unique=False)


# Text, because SQLite adds a column with its reference in one statement only, and both engines read this one.
COLUMNS = (
    ("part", "supplier_id INTEGER REFERENCES supplier (id)"),
    ("part", "pack_milli INTEGER NOT NULL DEFAULT 1000"),
    ("card_part", "order_line_id INTEGER REFERENCES order_line (id)"),
    ("card_part", "arrived_at BIGINT"),
    ("outwork", "ring VARCHAR NOT NULL DEFAULT ''"),
    ("card", "waits_for_parts BOOLEAN NOT NULL DEFAULT FALSE"),
)
# What is known so far: suppliers by their names on the parts, the stock and the prices as they stand.
KNOWN = (
    (
        "INSERT INTO supplier (version, name, phone, email, account, note, usual_days)"
        " SELECT 1, MIN(supplier), '', '', '', '', 0 FROM part WHERE supplier <> '' GROUP BY lower(supplier)"
    ),
    (
        "UPDATE part SET supplier_id = (SELECT s.id FROM supplier s WHERE lower(s.name) = lower(part.supplier))"
        " WHERE supplier <> ''"
    ),
    (
        "UPDATE part SET supplier = (SELECT s.name FROM supplier s WHERE s.id = part.supplier_id)"
        " WHERE supplier_id IS NOT NULL"
    ),
    (
        "INSERT INTO stock_move (part_id, qty_milli, why, note, at)"
        " SELECT id, stock_milli, 'stock-taking', 'as it stood when movements began to be kept',"
        " (SELECT COALESCE(MAX(at), 0) FROM journal) FROM part WHERE stock_milli <> 0"
    ),
    (
        "INSERT INTO price_change (part_id, cost_minor, price_minor, why, at)"
        " SELECT id, cost_minor, price_minor, 'as it stood when prices began to be kept',"
        " (SELECT COALESCE(MAX(at), 0) FROM journal) FROM part"
    ),
)
FIXED = ("stock_move", "price_change")


def _fix_sqlite(table: str) -> None:
    message = f"{table} rows are fixed for good"
    for act in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
        )
    # REPLACE walks around UPDATE and DELETE triggers.
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) "
        f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
    )


def _fix_postgres(table: str) -> None:
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
    _supplier()
    _orders()
    _moves()
    _sent_back()
    for table, column in COLUMNS:
        op.execute(f"ALTER TABLE {table} ADD COLUMN {column}")
    for table, column in (("part", "supplier_id"), ("card_part", "order_line_id")):
        op.create_index(op.f(f"ix_{table}_{column}"), table, [column], unique=False)
    for sql in KNOWN:
        op.execute(sql)
    sqlite = op.get_bind().dialect.name == "sqlite"
    for table in FIXED:
        (_fix_sqlite if sqlite else _fix_postgres)(table)
