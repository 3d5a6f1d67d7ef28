"""Commands of what is printed for the bench: the sheet that hangs on the car, and the squares that are scanned."""

from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import card_of, clean, shop_of, who
from shopcli.errors import BadInput, NotFound, StoreTrouble


def bench_sheet(args: Namespace) -> int:
    """Print the bench sheet, or write it as text or PDF."""
    from shopcli.papers.sheet import sheet_file
    from shopcli.units import IMPERIAL, METRIC

    if args.pdf and args.out:
        raise BadInput("a text and a PDF at once", hint="Give --pdf or --out.")
    shop = shop_of(args)
    prefs = IMPERIAL if who(shop, args).units == "imperial" else METRIC
    kind = "pdf" if args.pdf else "txt"
    content = sheet_file(shop, card_of(shop, args).id, kind, prefs, plain=args.ascii)
    if args.pdf or args.out:
        write_file(args.pdf or args.out, content)
    else:
        print(content.decode("utf-8"), end="")
    return 0


def write_file(name: str, content: bytes) -> None:
    """Write a finished file and say so.

    Raises
    ------
    StoreTrouble
        When it cannot be written.
    """
    try:
        Path(name).write_bytes(content)
    except (OSError, ValueError) as error:
        raise StoreTrouble(f"cannot write {name}: {getattr(error, 'strerror', None) or error}") from error
    print(clean(f"Written: {name}"))


def code(args: Namespace) -> int:
    """Print or write the square of a card or of a part."""
    from shopcli.codes import card_code, part_code
    from shopcli.papers.square import square_lines, square_svg

    shop = shop_of(args)
    if args.part:
        rows = shop.fetch("SELECT number FROM part WHERE lower(number) = ?", (args.number.strip().lower(),))
        if not rows:
            raise NotFound(f"there is no part '{args.number[:40]}'", hint="Its number, as on the shelf.")
        text = part_code(rows[0][0])
    else:
        args.card = args.number
        text = card_code(card_of(shop, args).number)
    if args.svg:
        write_file(args.svg, square_svg(text))
        return 0
    print("\n".join(square_lines(text, plain=args.ascii)))
    print(clean(text))
    return 0
