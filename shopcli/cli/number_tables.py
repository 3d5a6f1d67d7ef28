"""Tables of numbers in the shell: those of a vehicle or sheet written out, and taken in again line by line."""

import sys
from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

from shopcli.cli.common import clean, print_json, shop_of, signed_in, table
from shopcli.cli.numbers import own_sheet, sheet_of
from shopcli.errors import BadInput, StoreTrouble
from shopcli.store.sheet_table import table_of, take_table
from shopcli.store.trial import WRONG, LineDone

LARGEST_TABLE = 4_000_000


def table_out(args: Namespace) -> int:
    """Write the numbers of a vehicle or sheet as a table."""
    text = table_of(sheet_of(shop_of(args), args.where))
    if args.out:
        try:
            Path(args.out).write_text(text, encoding="utf-8", newline="")
        except OSError as error:
            raise StoreTrouble(f"cannot write {args.out}: {error.strerror}") from error
        print(f"Written: {args.out}")
        return 0
    sys.stdout.write(text)
    return 0


def table_in(args: Namespace) -> int:
    """Take numbers in from a table, or say what would come of it."""
    shop = shop_of(args)
    view = own_sheet(shop, args.where)
    done = take_table(shop, view, text_of(args.file), by=signed_in(shop, args).id, write=args.write)
    return tell(done, view.name, kept=args.write, json=args.json)


def tell(done: Sequence[LineDone], name: str, *, kept: bool, json: bool) -> int:
    """Say what came of each line; status 1 when one is wrong, and nothing was kept then."""
    wrong = any(line.outcome == WRONG for line in done)
    if json:
        print_json({"kept": kept and not wrong, "lines": done})
        return 1 if wrong else 0
    print(
        table(
            ("line", "name", "comes of it", "words"),
            [(d.line, d.name, d.outcome, d.said) for d in done],
            right=(0,),
        )
    )
    if wrong:
        print("Nothing was kept: a line is wrong.", file=sys.stderr)
    elif kept:
        print(f"Kept for {clean(name)}.")
    else:
        print("Only looked at: --write keeps it.", file=sys.stderr)
    return 1 if wrong else 0


def text_of(file: str) -> str:
    """Return the text of a table in a file, or of standard input where it is called ``-``."""
    try:
        data = sys.stdin.buffer.read(LARGEST_TABLE + 1) if file == "-" else Path(file).read_bytes()
    except OSError as error:
        raise StoreTrouble(f"cannot read {clean(file)}: {error.strerror}") from error
    if len(data) > LARGEST_TABLE:
        raise BadInput(f"{clean(file)} is too large for a table", hint="At most four million bytes.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise BadInput(
            f"line {line} of {clean(file)} is not UTF-8", hint="Save the table as CSV in UTF-8."
        ) from error
