"""What the counter keeps: keys, fuel and damage of a car, its hand-over, calls that were made, and words to find by.

The words customers are found by are kept by triggers, whoever writes. On SQLite three letters and more are found
anywhere in a word (FTS5, trigram), fewer at its beginning (a range of the index); on PostgreSQL both by indexes, the
former where the extension pg_trgm may be had.
"""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

TEXTS = ("car_keys", "fuel", "damage", "handed_to")


def _card() -> None:
    for name in TEXTS:
        op.add_column("card", sa.Column(name, sa.String(), nullable=False, server_default=""))
    op.add_column("card", sa.Column("handed_at", sa.BigInteger(), nullable=True))
    op.execute("ALTER TABLE card ADD COLUMN handed_by INTEGER REFERENCES person (id)")
    # Nobody noted until now when a car was fetched: the day its card was closed is the nearest there is.
    op.execute("UPDATE card SET handed_at = closed_at, handed_by = closed_by WHERE state = 'closed'")


def _call_note() -> None:
    op.create_table(
        "call_note",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("card_id", sa.Integer(), nullable=True),
        sa.Column("about", sa.String(), nullable=False),
        sa.Column("reached", sa.String(), nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.Column("next_on", sa.String(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("noted_by", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"]),
        sa.ForeignKeyConstraint(["card_id"], ["card.id"]),
        sa.ForeignKeyConstraint(["noted_by"], ["person.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("customer_id", "card_id", "about"):
        op.create_index(op.f(f"ix_call_note_{column}"), "call_note", [column], unique=False)


def _find_word() -> None:
    op.create_table(
        "find_word",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("vehicle_id", sa.Integer(), nullable=True),
        sa.Column("word", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    for column in ("customer_id", "vehicle_id"):
        op.create_index(op.f(f"ix_find_word_{column}"), "find_word", [column], unique=False)


# SQLite --------------------------------------------------------------------------------------------------


def _plain(column: str) -> str:
    """Return SQL for a text in small letters without the signs people put into telephone numbers and plates."""
    sql = f"lower({column})"
    for sign in "()+":
        sql = f"replace({sql}, '{sign}', '')"
    for sign in "-/.":
        sql = f"replace({sql}, '{sign}', ' ')"
    return sql


def _words(column: str) -> str:
    # Triggers have no recursion; the reader of JSON lists splits words.
    listed = f"'[' || replace(json_quote({_plain(column)}), ' ', '\",\"') || ']'"
    return f"SELECT value FROM json_each({listed}) WHERE value <> ''"


def _whole(column: str) -> str:
    return f"SELECT replace({_plain(column)}, ' ', '') WHERE {column} <> ''"


def _of_customer(row: str) -> str:
    words = " UNION ".join((_words(f"{row}.name"), _words(f"{row}.phone"), _whole(f"{row}.phone")))
    return f"INSERT INTO find_word (customer_id, word) SELECT {row}.id, value FROM ({words})"


def _of_vehicle(row: str) -> str:
    words = " UNION ".join((_words(f"{row}.registration"), _whole(f"{row}.registration")))
    return (
        "INSERT INTO find_word (customer_id, vehicle_id, word)"
        f" SELECT {row}.customer_id, {row}.id, value FROM ({words})"
    )


def _find_sqlite() -> None:
    op.create_index("ix_find_word_word", "find_word", ["word"], unique=False)
    op.execute(
        "CREATE VIRTUAL TABLE find_text USING fts5(word, content='find_word', content_rowid='id', tokenize='trigram')"
    )
    gone = "INSERT INTO find_text (find_text, rowid, word) VALUES ('delete', OLD.id, OLD.word);"
    op.execute(
        "CREATE TRIGGER find_word_in AFTER INSERT ON find_word BEGIN"
        " INSERT INTO find_text (rowid, word) VALUES (NEW.id, NEW.word); END"
    )
    op.execute(f"CREATE TRIGGER find_word_out AFTER DELETE ON find_word BEGIN {gone} END")
    for table, make, mine, columns in (
        ("customer", _of_customer, "customer_id = OLD.id AND vehicle_id IS NULL", "name, phone"),
        ("vehicle", _of_vehicle, "vehicle_id = OLD.id", "registration, customer_id"),
    ):
        out = f"DELETE FROM find_word WHERE {mine};"
        op.execute(f"CREATE TRIGGER {table}_found AFTER INSERT ON {table} BEGIN {make('NEW')}; END")
        op.execute(
            f"CREATE TRIGGER {table}_refound AFTER UPDATE OF {columns} ON {table} BEGIN {out} {make('NEW')}; END"
        )
        op.execute(f"CREATE TRIGGER {table}_unfound AFTER DELETE ON {table} BEGIN {out} END")
    # Whoever is there already: each row's words, as its trigger would have it.
    op.execute("UPDATE customer SET name = name")
    op.execute("UPDATE vehicle SET registration = registration")


# PostgreSQL ----------------------------------------------------------------------------------------------

SPLIT = """
CREATE FUNCTION find_words(said text, whole boolean) RETURNS SETOF text LANGUAGE sql IMMUTABLE AS $$
  SELECT DISTINCT word FROM (
    SELECT unnest(string_to_array(plain, ' ')) AS word FROM (SELECT translate(lower(said), '-/.()+', '   ') AS plain) a
    UNION SELECT replace(translate(lower(said), '-/.()+', '   '), ' ', '') WHERE whole
  ) b WHERE word <> ''
$$"""
CUSTOMER_FOUND = """
CREATE FUNCTION customer_found() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
  IF TG_OP <> 'INSERT' THEN DELETE FROM find_word WHERE customer_id = OLD.id AND vehicle_id IS NULL; END IF;
  IF TG_OP <> 'DELETE' THEN
    INSERT INTO find_word (customer_id, word)
    SELECT NEW.id, w FROM (SELECT find_words(NEW.name, false) AS w UNION SELECT find_words(NEW.phone, true)) x;
  END IF;
  RETURN NULL;
END $$"""
VEHICLE_FOUND = """
CREATE FUNCTION vehicle_found() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
  IF TG_OP <> 'INSERT' THEN DELETE FROM find_word WHERE vehicle_id = OLD.id; END IF;
  IF TG_OP <> 'DELETE' THEN
    INSERT INTO find_word (customer_id, vehicle_id, word)
    SELECT NEW.customer_id, NEW.id, w FROM (SELECT find_words(NEW.registration, true) AS w) x;
  END IF;
  RETURN NULL;
END $$"""
TRIGRAMS = """
DO $$ BEGIN
  CREATE EXTENSION IF NOT EXISTS pg_trgm;
  CREATE INDEX ix_find_word_trigrams ON find_word USING gin (word gin_trgm_ops);
EXCEPTION WHEN OTHERS THEN
  RAISE NOTICE 'no pg_trgm here: customers are found without it, only slower';
END $$"""


def _find_postgres() -> None:
    op.execute("CREATE INDEX ix_find_word_word ON find_word (word text_pattern_ops)")
    for sql in (SPLIT, CUSTOMER_FOUND, VEHICLE_FOUND, TRIGRAMS):
        op.execute(sql)
    for table, columns in (("customer", "name, phone"), ("vehicle", "registration, customer_id")):
        op.execute(
            f"CREATE TRIGGER {table}_found AFTER INSERT OR DELETE OR UPDATE OF {columns} ON {table}"
            f" FOR EACH ROW EXECUTE FUNCTION {table}_found()"
        )
    op.execute("UPDATE customer SET name = name")
    op.execute("UPDATE vehicle SET registration = registration")


def upgrade() -> None:
    _card()
    _call_note()
    _find_word()
    (_find_sqlite if op.get_bind().dialect.name == "sqlite" else _find_postgres)()
