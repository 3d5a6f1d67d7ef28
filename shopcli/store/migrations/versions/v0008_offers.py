"""Offers that stay as they were made, what was answered to them, and how and when an authority came."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def _offer() -> None:
    op.create_table(
        "offer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=True),
        sa.Column("templates", sa.String(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("valid_until", sa.String(), nullable=False),
        sa.Column("usual_min", sa.Integer(), nullable=False),
        sa.Column("most_min", sa.Integer(), nullable=False),
        sa.Column("net_minor", sa.Integer(), nullable=False),
        sa.Column("vat_minor", sa.Integer(), nullable=False),
        sa.Column("gross_minor", sa.Integer(), nullable=False),
        sa.Column("most_minor", sa.Integer(), nullable=False),
        sa.Column("body", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"]),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"]),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["made_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    for column in ("vehicle_id", "customer_id", "card_id", "made_at"):
        op.create_index(op.f(f"ix_offer_{column}"), "offer", [column], unique=False)


def _answer() -> None:
    op.create_table(
        "offer_answer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("offer_id", sa.Integer(), nullable=False),
        sa.Column("answer", sa.String(), nullable=False),
        sa.Column("said_by", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("amount_minor", sa.Integer(), nullable=True),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("taken_by", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["offer_id"], ["offer.id"]),
        sa.ForeignKeyConstraint(["taken_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("offer_id"),
    )


def _fix_sqlite() -> None:
    fixed = "BEGIN SELECT RAISE(ABORT, 'offer rows are fixed for good'); END"
    for act in ("UPDATE", "DELETE"):
        op.execute(f"CREATE TRIGGER offer_no_{act.lower()} BEFORE {act} ON offer {fixed}")
    # REPLACE walks around UPDATE and DELETE triggers.
    op.execute(
        "CREATE TRIGGER offer_no_replace BEFORE INSERT ON offer "
        f"WHEN EXISTS (SELECT 1 FROM offer WHERE id = NEW.id OR number = NEW.number) {fixed}"
    )


def _fix_postgres() -> None:
    op.execute(
        "CREATE FUNCTION offer_fixed() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'offer rows are fixed for good'; END $$"
    )
    op.execute(
        "CREATE TRIGGER offer_fixed BEFORE UPDATE OR DELETE ON offer FOR EACH ROW EXECUTE FUNCTION offer_fixed()"
    )
    op.execute(
        "CREATE TRIGGER offer_kept BEFORE TRUNCATE ON offer FOR EACH STATEMENT EXECUTE FUNCTION offer_fixed()"
    )


def upgrade() -> None:
    _offer()
    _answer()
    op.add_column("card", sa.Column("authority_how", sa.String(), nullable=False, server_default=""))
    op.add_column("card", sa.Column("authority_at", sa.BigInteger(), nullable=True))
    op.execute("ALTER TABLE card ADD COLUMN offer_id INTEGER REFERENCES offer (id)")
    op.create_index(op.f("ix_card_offer_id"), "card", ["offer_id"], unique=False)
    (_fix_sqlite if op.get_bind().dialect.name == "sqlite" else _fix_postgres)()
