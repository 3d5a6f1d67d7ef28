"""Commands for job templates of the shop's own: begin one, and check what was written."""

from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import clean, print_json, shop_of
from shopcli.cli.knowledge import tell_problems
from shopcli.errors import BadInput
from shopcli.shop.settings import Settings
from shopcli.store.own_folder import copy_of, needed_folder, own_folder, write_template
from shopcli.worklists.checking import check_path
from shopcli.worklists.scaffold import name_from, template_text


def new(args: Namespace) -> int:
    """Begin a job template."""
    shop = shop_of(args)
    folder = needed_folder(shop.settings, args.folder)
    if args.like:
        if args.title or args.system or args.tasks:
            raise BadInput("a copy has its title and tasks already", hint="Change them in the file.")
        name = args.name or args.like
        text = copy_of(shop.library, args.like)
    else:
        name = args.name or name_from(args.title)
        text = template_text(name, args.title, args.system, args.tasks)
    file = write_template(folder, name, text)
    print(clean(f"Written: {file}"))
    print(clean(f"Change it, then: shopcli template-check {name}"))
    return 0


def check(args: Namespace) -> int:
    """Check files or folders."""
    settings = shop_of(args).settings
    own = own_folder(settings)
    folders = (own,) if own and own.is_dir() else ()
    places = [_meant(text, settings) for text in args.path] or [needed_folder(settings)]
    looked = [check_path(place, folders) for place in places]
    problems = tuple(p for one in looked for p in one.problems)
    files = tuple(f for one in looked for f in one.files)
    if args.json:
        print_json([{"file": p.file, "line": p.line, "message": p.message, "hint": p.hint} for p in problems])
    elif not problems:
        print(f"{len(files)} {'file' if len(files) == 1 else 'files'} looked at, nothing wrong.")
    else:
        tell_problems(problems)
    return 1 if problems else 0


def _meant(text: str, settings: Settings) -> Path:
    """Return the path meant; a bare name is that of a job of the shop's own."""
    path, own = Path(text).expanduser(), own_folder(settings)
    if own and not path.exists() and path.name == text:
        return own / "tasks" / f"{text.removesuffix('.toml')}.toml"
    return path
