"""The first schema: people, customers, vehicles, cards and all that hangs on them."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

# The journal and issued invoices are fixed by the database itself, not by good manners. REPLACE walks
# around UPDATE and DELETE triggers in SQLite, hence the trigger on INSERT over a taken id.
FIXED = ("journal", "invoice")


def _fix_sqlite(table: str) -> None:
    message = f"{table} rows are fixed for good"
    for act in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
        )
    unique = "NEW.op" if table == "journal" else "NEW.number"
    column = unique.removeprefix("NEW.")
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id OR {column} = {unique}) "
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
    op.create_table(
        "counter",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("value", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name"),
    )
    op.create_table(
        "customer",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("phone", sa.String(), nullable=False),
        sa.Column("email", sa.String(), nullable=False),
        sa.Column("address", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_customer_name"), "customer", ["name"], unique=False)
    op.create_table(
        "part",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("bin", sa.String(), nullable=False),
        sa.Column("supplier", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("stock_milli", sa.Integer(), nullable=False),
        sa.Column("reorder_milli", sa.Integer(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("surcharge_minor", sa.Integer(), nullable=False),
        sa.Column("vat", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    op.create_index(op.f("ix_part_name"), "part", ["name"], unique=False)
    op.create_table(
        "person",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("pin_hash", sa.String(), nullable=False),
        sa.Column("units", sa.String(), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("name"),
    )
    op.create_table(
        "journal",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("op", sa.String(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=True),
        sa.Column("act", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("subject_id", sa.Integer(), nullable=True),
        sa.Column("card_id", sa.Integer(), nullable=True),
        sa.Column("before", sa.String(), nullable=False),
        sa.Column("after", sa.String(), nullable=False),
        sa.Column("answer", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"],
            ["person.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("op"),
    )
    op.create_index(op.f("ix_journal_act"), "journal", ["act"], unique=False)
    op.create_index(op.f("ix_journal_at"), "journal", ["at"], unique=False)
    op.create_index(op.f("ix_journal_card_id"), "journal", ["card_id"], unique=False)
    op.create_index(op.f("ix_journal_subject_id"), "journal", ["subject_id"], unique=False)
    op.create_table(
        "vehicle",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("registration", sa.String(), nullable=False),
        sa.Column("make", sa.String(), nullable=False),
        sa.Column("model", sa.String(), nullable=False),
        sa.Column("year", sa.Integer(), nullable=True),
        sa.Column("chassis_number", sa.String(), nullable=False),
        sa.Column("engine_number", sa.String(), nullable=False),
        sa.Column("distance_unit", sa.String(), nullable=False),
        sa.Column("sheet", sa.String(), nullable=False),
        sa.Column("facts", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["customer_id"],
            ["customer.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("registration"),
    )
    op.create_index(op.f("ix_vehicle_customer_id"), "vehicle", ["customer_id"], unique=False)
    op.create_table(
        "card",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("held_for", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("left_with", sa.String(), nullable=False),
        sa.Column("odometer", sa.Integer(), nullable=True),
        sa.Column("authority_minor", sa.Integer(), nullable=True),
        sa.Column("authority_by", sa.String(), nullable=False),
        sa.Column("promised", sa.String(), nullable=False),
        sa.Column("opened_at", sa.BigInteger(), nullable=False),
        sa.Column("opened_by", sa.Integer(), nullable=False),
        sa.Column("checked_at", sa.BigInteger(), nullable=True),
        sa.Column("checked_by", sa.Integer(), nullable=True),
        sa.Column("closed_at", sa.BigInteger(), nullable=True),
        sa.Column("closed_by", sa.Integer(), nullable=True),
        sa.Column("closed_week", sa.String(), nullable=False),
        sa.Column("expected_minutes", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["checked_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["closed_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["customer_id"],
            ["customer.id"],
        ),
        sa.ForeignKeyConstraint(
            ["opened_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("number"),
    )
    op.create_index(op.f("ix_card_closed_at"), "card", ["closed_at"], unique=False)
    op.create_index(op.f("ix_card_closed_week"), "card", ["closed_week"], unique=False)
    op.create_index(op.f("ix_card_customer_id"), "card", ["customer_id"], unique=False)
    op.create_index(op.f("ix_card_opened_at"), "card", ["opened_at"], unique=False)
    op.create_index(op.f("ix_card_state"), "card", ["state"], unique=False)
    op.create_index(op.f("ix_card_vehicle_id"), "card", ["vehicle_id"], unique=False)
    op.create_table(
        "vehicle_spec",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("spec", sa.String(), nullable=False),
        sa.Column("entered_by", sa.Integer(), nullable=False),
        sa.Column("entered_at", sa.BigInteger(), nullable=False),
        sa.Column("replaced_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(
            ["entered_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_vehicle_spec_vehicle_id"), "vehicle_spec", ["vehicle_id"], unique=False)
    op.create_table(
        "card_template",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("template", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("template_version", sa.String(), nullable=False),
        sa.Column("expected_minutes", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_card_template_card_id"), "card_template", ["card_id"], unique=False)
    op.create_index(op.f("ix_card_template_template"), "card_template", ["template"], unique=False)
    op.create_table(
        "invoice",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("issued_at", sa.BigInteger(), nullable=False),
        sa.Column("issued_by", sa.Integer(), nullable=False),
        sa.Column("net_minor", sa.Integer(), nullable=False),
        sa.Column("vat_minor", sa.Integer(), nullable=False),
        sa.Column("gross_minor", sa.Integer(), nullable=False),
        sa.Column("due_minor", sa.Integer(), nullable=False),
        sa.Column("labour_minutes", sa.Integer(), nullable=False),
        sa.Column("labour_minor", sa.Integer(), nullable=False),
        sa.Column("parts_minor", sa.Integer(), nullable=False),
        sa.Column("parts_cost_minor", sa.Integer(), nullable=False),
        sa.Column("week", sa.String(), nullable=False),
        sa.Column("body", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["issued_by"],
            ["person.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("card_id"),
        sa.UniqueConstraint("number"),
    )
    op.create_index(op.f("ix_invoice_issued_at"), "invoice", ["issued_at"], unique=False)
    op.create_index(op.f("ix_invoice_week"), "invoice", ["week"], unique=False)
    op.create_table(
        "outwork",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("who", sa.String(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("vat", sa.String(), nullable=False),
        sa.Column("sent", sa.String(), nullable=False),
        sa.Column("due", sa.String(), nullable=False),
        sa.Column("back", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_outwork_card_id"), "outwork", ["card_id"], unique=False)
    op.create_table(
        "payment",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("amount_minor", sa.Integer(), nullable=False),
        sa.Column("method", sa.String(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("taken_by", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["taken_by"],
            ["person.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_payment_card_id"), "payment", ["card_id"], unique=False)
    op.create_table(
        "task",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("template", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("waits", sa.Integer(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("second", sa.Boolean(), nullable=False),
        sa.Column("frozen", sa.String(), nullable=False),
        sa.Column("done_by", sa.Integer(), nullable=True),
        sa.Column("done_at", sa.BigInteger(), nullable=True),
        sa.Column("left_out_for", sa.String(), nullable=False),
        sa.Column("second_by", sa.Integer(), nullable=True),
        sa.Column("second_at", sa.BigInteger(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["done_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["second_by"],
            ["person.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_task_card_id"), "task", ["card_id"], unique=False)
    op.create_table(
        "waiver",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("hindrance", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("waived_by", sa.Integer(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["waived_by"],
            ["person.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_waiver_card_id"), "waiver", ["card_id"], unique=False)
    op.create_table(
        "card_part",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=True),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("qty_milli", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("surcharge_minor", sa.Integer(), nullable=False),
        sa.Column("vat", sa.String(), nullable=False),
        sa.Column("customers_own", sa.Boolean(), nullable=False),
        sa.Column("optional", sa.Boolean(), nullable=False),
        sa.Column("serial", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("fitted_by", sa.Integer(), nullable=True),
        sa.Column("fitted_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["fitted_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["part_id"],
            ["part.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_card_part_card_id"), "card_part", ["card_id"], unique=False)
    op.create_table(
        "clock_entry",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.BigInteger(), nullable=False),
        sa.Column("ended_at", sa.BigInteger(), nullable=True),
        sa.Column("corrected", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["person_id"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_clock_entry_card_id"), "clock_entry", ["card_id"], unique=False)
    op.create_index(op.f("ix_clock_entry_person_id"), "clock_entry", ["person_id"], unique=False)
    op.create_index(op.f("ix_clock_entry_started_at"), "clock_entry", ["started_at"], unique=False)
    op.create_index(op.f("ix_clock_entry_task_id"), "clock_entry", ["task_id"], unique=False)
    op.create_index(
        "ix_one_open_clock",
        "clock_entry",
        ["person_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.create_table(
        "finding",
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=True),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("severity", sa.String(), nullable=False),
        sa.Column("takes", sa.String(), nullable=False),
        sa.Column("photo", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("seen_by", sa.Integer(), nullable=False),
        sa.Column("seen_at", sa.BigInteger(), nullable=False),
        sa.Column("settled_by", sa.Integer(), nullable=True),
        sa.Column("settled_at", sa.BigInteger(), nullable=True),
        sa.Column("settled_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["seen_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["settled_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_finding_card_id"), "finding", ["card_id"], unique=False)
    op.create_index(op.f("ix_finding_state"), "finding", ["state"], unique=False)
    op.create_index(op.f("ix_finding_vehicle_id"), "finding", ["vehicle_id"], unique=False)
    op.create_table(
        "owed",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("redeemed_by_key", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("before", sa.String(), nullable=False),
        sa.Column("due_odometer", sa.Integer(), nullable=True),
        sa.Column("due_date", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("promised_at", sa.BigInteger(), nullable=False),
        sa.Column("settled_by", sa.Integer(), nullable=True),
        sa.Column("settled_at", sa.BigInteger(), nullable=True),
        sa.Column("settled_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["settled_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_owed_card_id"), "owed", ["card_id"], unique=False)
    op.create_index(op.f("ix_owed_state"), "owed", ["state"], unique=False)
    op.create_index(op.f("ix_owed_vehicle_id"), "owed", ["vehicle_id"], unique=False)
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("slot", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("label", sa.String(), nullable=False),
        sa.Column("phase", sa.String(), nullable=False),
        sa.Column("typed", sa.String(), nullable=False),
        sa.Column("value", sa.Float(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("quantity", sa.String(), nullable=False),
        sa.Column("limits", sa.String(), nullable=False),
        sa.Column("provenance", sa.String(), nullable=False),
        sa.Column("standing", sa.String(), nullable=False),
        sa.Column("verdict", sa.String(), nullable=False),
        sa.Column("tool", sa.String(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("struck_at", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["person_id"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_reading_card_id"), "reading", ["card_id"], unique=False)
    op.create_index(op.f("ix_reading_task_id"), "reading", ["task_id"], unique=False)
    op.create_index(op.f("ix_reading_vehicle_id"), "reading", ["vehicle_id"], unique=False)
    op.create_table(
        "tag",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("says", sa.String(), nullable=False),
        sa.Column("bars", sa.String(), nullable=False),
        sa.Column("hung_by", sa.Integer(), nullable=False),
        sa.Column("hung_at", sa.BigInteger(), nullable=False),
        sa.Column("lifted_by", sa.Integer(), nullable=True),
        sa.Column("lifted_at", sa.BigInteger(), nullable=True),
        sa.Column("lifted_task_id", sa.Integer(), nullable=True),
        sa.Column("lifted_for", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"],
            ["card.id"],
        ),
        sa.ForeignKeyConstraint(
            ["hung_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["lifted_by"],
            ["person.id"],
        ),
        sa.ForeignKeyConstraint(
            ["lifted_task_id"],
            ["task.id"],
        ),
        sa.ForeignKeyConstraint(
            ["task_id"],
            ["task.id"],
        ),
        sa.ForeignKeyConstraint(
            ["vehicle_id"],
            ["vehicle.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(op.f("ix_tag_card_id"), "tag", ["card_id"], unique=False)
    op.create_index(op.f("ix_tag_vehicle_id"), "tag", ["vehicle_id"], unique=False)
    sqlite = op.get_bind().dialect.name == "sqlite"
    for table in FIXED:
        (_fix_sqlite if sqlite else _fix_postgres)(table)
