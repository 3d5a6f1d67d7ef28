"""Commands about what the shop knows: templates, sheets, previews."""

import json
import sys
from argparse import Namespace

from shopcli.cli.common import clean, print_json, shop_of, table
from shopcli.errors import NotFound
from shopcli.worklists.model import Spec


def templates(args: Namespace) -> int:
    """Check the library and print it."""
    library = shop_of(args).library
    if args.json:
        print_json(tuple(library.templates.values()))
    else:
        rows = [
            (t.name, t.system, len(t.tasks), sum(k.minutes for k in t.tasks), t.title)
            for t in sorted(library.templates.values(), key=lambda t: (t.system, t.name))
        ]
        print(table(("name", "system", "tasks", "min", "title"), rows, right=(2, 3)))
    for problem in library.problems:
        print(clean(f"{problem.message}  {problem.hint}"), file=sys.stderr)
    return 1 if library.problems else 0


def sheets(args: Namespace) -> int:
    """List the spec sheets."""
    library = shop_of(args).library
    rows = [
        (s.name, s.under or "-", len(s.specs), s.title)
        for s in sorted(library.sheets.values(), key=lambda s: s.name)
    ]
    if args.json:
        json.dump(
            [dict(zip(("name", "under", "numbers", "title"), r, strict=True)) for r in rows],
            sys.stdout,
            indent=2,
        )
        print()
        return 0
    print(table(("name", "under", "numbers", "title"), rows, right=(2,)))
    return 0


def preview(args: Namespace) -> int:
    """Expand templates without opening a card."""
    from shopcli.papers.preview import work_list_text
    from shopcli.units import IMPERIAL, METRIC
    from shopcli.worklists.sheets import facts, lookup
    from shopcli.worklists.together import together

    shop = shop_of(args)
    sheet: str = args.sheet or ""
    own: tuple[Spec, ...] = ()
    overrides: dict[str, object] = {}
    if args.vehicle:
        wanted = " ".join(args.vehicle.upper().split())
        rows = shop.fetch("SELECT id, sheet, facts FROM vehicle WHERE registration = ?", (wanted,))
        if not rows:
            raise NotFound(f"there is no vehicle '{args.vehicle}'", hint="See: shopcli vehicles")
        from shopcli.store.reads.bench import own_specs

        sheet, overrides = rows[0][1], json.loads(rows[0][2])
        own = tuple(own_specs(shop, rows[0][0]).values())
    work = together(
        shop.library,
        tuple(args.template),
        facts(shop.library, sheet, overrides),
        lookup(shop.library, sheet, own),
    )
    print(work_list_text(work, IMPERIAL if shop.settings.units == "imperial" else METRIC), end="")
    return 0
