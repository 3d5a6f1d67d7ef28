"""Customers are found by the letters of a plain keyboard too: words to find by are folded as what is typed is.

Beside a word without accents and strokes stands, where it differs, the word as a passport spells it out.
"""

from alembic import op

from shopcli.folded import MARKS, SPELT_OUT, folds

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None

DROPPED = "()+"
BLANKS = "-/."
ONE = {letter: plain for letter, plain in folds().items() if len(plain) == 1}
MORE = {letter: plain for letter, plain in folds().items() if len(plain) > 1}
LETTERS, PLAIN = "".join(ONE), "".join(ONE.values())
OUT = {way: out for letter, out in SPELT_OUT.items() for way in (letter, letter.upper())}


def _replaced(sql: str, by: dict[str, str]) -> str:
    for sign, other in by.items():
        sql = f"replace({sql}, {_quoted(sign)}, {_quoted(other)})"
    return sql


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


# SQLite --------------------------------------------------------------------------------------------------


def _folded(column: str) -> str:
    """Return SQL for a text letter by letter: triggers have no recursion, the reader of JSON lists counts for them."""
    places = f"json_each('[' || substr(replace(hex(zeroblob(length({column}))), '00', ',0'), 2) || ']')"
    more = " ".join(f"WHEN {_quoted(letter)} THEN {_quoted(plain)}" for letter, plain in MORE.items())
    mark = f"unicode(c) BETWEEN {MARKS.start} AND {MARKS.stop - 1}"
    return (
        f"CASE WHEN {column} GLOB '*[^ -~]*' THEN COALESCE((SELECT group_concat("
        f"CASE WHEN at > 0 THEN substr({_quoted(PLAIN)}, at, 1) WHEN {mark} THEN '' ELSE CASE c {more} ELSE c END END, '')"
        f" FROM (SELECT c, instr({_quoted(LETTERS)}, c) AS at FROM"
        f" (SELECT substr({column}, key + 1, 1) AS c FROM {places} ORDER BY key))), '') ELSE {column} END"
    )


def _words(*columns: tuple[str, bool]) -> str:
    """Return SQL for the words of columns, and of a number or a plate as a whole: folded, and spelt out and folded."""
    signs = {**dict.fromkeys(DROPPED, ""), **dict.fromkeys(BLANKS, " ")}
    said = " UNION ALL ".join(
        f"SELECT {_replaced(f'lower({column})', signs)} AS said, {int(whole)} AS whole"
        for column, whole in columns
    )
    twice = "(SELECT 0 AS n UNION ALL SELECT 1)"
    spelt = f"SELECT CASE n WHEN 1 THEN {_replaced('said', OUT)} ELSE said END AS said, whole FROM ({said}), {twice}"
    plain = f"SELECT {_folded('said')} AS said, whole FROM ({spelt})"
    joined = f"SELECT CASE n WHEN 1 THEN replace(said, ' ', '') ELSE said END AS said FROM ({plain}), {twice} WHERE n <= whole"
    # The reader of JSON lists splits the words.
    listed = "'[' || replace(json_quote(said), ' ', '\",\"') || ']'"
    return f"SELECT DISTINCT value FROM ({joined}), json_each({listed}) WHERE value <> ''"


def _of_customer() -> str:
    words = _words(("NEW.name", False), ("NEW.phone", True))
    return f"INSERT INTO find_word (customer_id, word) SELECT NEW.id, value FROM ({words})"


def _of_vehicle() -> str:
    return (
        "INSERT INTO find_word (customer_id, vehicle_id, word)"
        f" SELECT NEW.customer_id, NEW.id, value FROM ({_words(('NEW.registration', True))})"
    )


def _find_sqlite() -> None:
    for table, made, mine, columns in (
        ("customer", _of_customer(), "customer_id = OLD.id AND vehicle_id IS NULL", "name, phone"),
        ("vehicle", _of_vehicle(), "vehicle_id = OLD.id", "registration, customer_id"),
    ):
        op.execute(f"DROP TRIGGER {table}_found")
        op.execute(f"DROP TRIGGER {table}_refound")
        _run(f"CREATE TRIGGER {table}_found AFTER INSERT ON {table} BEGIN {made}; END")
        _run(
            f"CREATE TRIGGER {table}_refound AFTER UPDATE OF {columns} ON {table}"
            f" BEGIN DELETE FROM find_word WHERE {mine}; {made}; END"
        )


# PostgreSQL ----------------------------------------------------------------------------------------------

SPLIT = """
CREATE OR REPLACE FUNCTION find_words(said text, whole boolean) RETURNS SETOF text LANGUAGE sql IMMUTABLE AS $$
  SELECT DISTINCT word FROM (
    SELECT unnest(string_to_array(plain, ' ') || CASE WHEN whole THEN replace(plain, ' ', '') END) AS word
    FROM (SELECT find_folded(way) AS plain FROM (
      SELECT translate(lower(said), '-/.()+', '   ') AS way
      UNION SELECT find_spelt_out(translate(lower(said), '-/.()+', '   '))
    ) a) b
  ) c WHERE word <> ''
$$"""


def _one(name: str, sql: str) -> None:
    _run(f"CREATE FUNCTION {name}(said text) RETURNS text LANGUAGE sql IMMUTABLE AS $$ SELECT {sql} $$")


def _find_postgres() -> None:
    marks = "".join(map(chr, MARKS))
    _one("find_folded", f"translate({_replaced('said', MORE)}, {_quoted(LETTERS + marks)}, {_quoted(PLAIN)})")
    _one("find_spelt_out", _replaced("said", OUT))
    _run(SPLIT)


def _run(sql: str) -> None:
    op.get_bind().exec_driver_sql(sql)


def upgrade() -> None:
    sqlite = op.get_bind().dialect.name == "sqlite"
    (_find_sqlite if sqlite else _find_postgres)()
    # Whoever is there already, if there is a letter to fold: each row's words, as its trigger has them now.
    foreign = "{0} GLOB '*[^ -~]*'" if sqlite else "{0} ~ '[^ -~]'"
    for table, column in (("customer", "name"), ("customer", "phone"), ("vehicle", "registration")):
        _run(f"UPDATE {table} SET {column} = {column} WHERE {foreign.format(column)}")
