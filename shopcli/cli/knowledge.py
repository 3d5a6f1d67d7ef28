"""Commands about what the shop knows: templates, sheets, previews."""

import json
import sys
from argparse import Namespace
from collections.abc import Mapping, Sequence

from shopcli.cli.common import clean, print_json, shop_of, table
from shopcli.errors import BadTemplate, NotFound
from shopcli.shipped import shipped
from shopcli.store.own_folder import own_folder
from shopcli.worklists.checking import own_entries
from shopcli.worklists.library import Library
from shopcli.worklists.model import Spec


def templates(args: Namespace) -> int:
    """Check the library and print what it holds, and what of it is the shop's own."""
    shop = shop_of(args)
    library, folder = shop.library, own_folder(shop.settings)
    if args.json:
        print_json(tuple(library.templates.values()))
    else:
        own = own_entries(folder) if folder else {}
        print(table(("name", "system", "tasks", "min", "from", "title"), _jobs(library, own), right=(2, 3)))
        print()
        print(table(("what", "in all", "your own", "names of your own"), _held(library, own), right=(1, 2)))
        print(clean(f"Your own folder: {folder or 'none is named in the settings'}"))
    tell_problems(library.problems)
    return 1 if library.problems else 0


def tell_problems(problems: Sequence[BadTemplate]) -> None:
    """Say what is wrong: file, line, what, and what to write instead."""
    for problem in problems:
        print(clean(f"{problem.message}  {problem.hint}"), file=sys.stderr)


def _jobs(library: Library, own: Mapping[str, Sequence[str]]) -> list[tuple[object, ...]]:
    return [
        (t.name, t.system, len(t.tasks), sum(k.minutes for k in t.tasks), _origin(t.name, own), t.title)
        for t in sorted(library.templates.values(), key=lambda t: (t.system, t.name))
    ]


def _origin(name: str, own: Mapping[str, Sequence[str]]) -> str:
    if name not in own.get("tasks", ()):
        return "program"
    ours = (shipped("jobtemplates") / "tasks" / f"{name}.toml").is_file()
    return "own, in place of the program's" if ours else "own"


def _held(library: Library, own: Mapping[str, Sequence[str]]) -> list[tuple[object, ...]]:
    held: dict[str, Mapping[str, object]] = {
        "tasks": library.templates,
        "sheets": library.sheets,
        "kits": library.kits,
        "cautions": library.cautions,
        "tags": library.tags,
    }
    called = {"tasks": "jobs", "sheets": "spec sheets"}
    rows = []
    for kind, all_ in held.items():
        usable = [name for name in own.get(kind, ()) if name in all_]
        rows.append((called.get(kind, kind), len(all_), len(usable), ", ".join(usable) or "-"))
    return rows


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
