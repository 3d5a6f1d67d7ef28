"""Commands that keep a shop's records safe: examine, copy, restore, write out, read in, move."""

import os
import sys
from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import clean, print_json, shop_of
from shopcli.errors import BadInput, Refused
from shopcli.store.place import Place, find_place
from shopcli.store.shop import utc_now
from shopcli.store.trouble import told


def examine_(args: Namespace) -> int:
    """Examine the records; status 1 when anything does not hold."""
    from shopcli.store.whole.examining import examine

    wrong = examine(shop_of(args))
    if args.json:
        print_json(wrong)
        return 1 if wrong else 0
    for found in wrong:
        print(clean(f"✗ {found.what} ({found.rows}): {found.first}"))
        print(clean(f"    {found.remedy}"))
    print("Nothing was changed." if wrong else "✓ Everything holds.")
    return 1 if wrong else 0


def back_up_(args: Namespace) -> int:
    """Copy the records while everybody works on."""
    from shopcli.store.whole.backups import back_up, usual_folder

    shop = shop_of(args)
    folder = usual_folder(shop.place, args.folder or shop.settings.backup_folder)
    copy = back_up(shop.place, folder, shop.now(), shop.settings.backups_kept)
    shop.close()
    print(clean(f"Copied: {copy}"))
    return 0


def restore_(args: Namespace) -> int:
    """Put a copy in the place of the records."""
    from shopcli.store.whole.backups import restore

    place = find_place(getattr(args, "db", None))
    kept = restore(Path(args.file).expanduser(), place, utc_now())
    print(clean(f"Restored: {place.label}"))
    if kept:
        print(clean(f"What was there is kept: {kept}"))
    print("Look it over: shopcli examine. Photos and papers are files of their own and were not touched.")
    return 0


def write_out(args: Namespace) -> int:
    """Write all records as lines of JSON."""
    from shopcli.store.whole.written import lines

    source = lines(shop_of(args).place)
    if args.file == "-":
        sys.stdout.writelines(f"{line}\n" for line in source)
        return 0
    file = Path(args.file).expanduser()
    with told():
        try:
            file.touch(0o600, exist_ok=False)  # nobody else may read it: what PINs are told by is in it
        except FileExistsError:
            raise Refused(f"{file} is there already", hint="Name a new file.") from None
        with file.open("w", encoding="utf-8") as out:
            out.writelines(f"{line}\n" for line in source)
            out.flush()
            os.fsync(out.fileno())
    print(clean(f"Written: {file}"))
    return 0


def read_in_(args: Namespace) -> int:
    """Read written-out records into an empty place."""
    from shopcli.store.whole.written import read_in

    file, place = Path(args.file).expanduser(), find_place(getattr(args, "db", None))
    if not file.is_file():
        raise BadInput(f"there is no file {file}")
    try:
        with told(), file.open(encoding="utf-8") as source:
            count = read_in(place, source)
    except UnicodeDecodeError:
        raise BadInput(f"{file.name} is no written-out shop") from None
    print(clean(f"Read in: {count} rows into {place.label}"))
    return 0


def move_to(args: Namespace) -> int:
    """Copy the shop to another place, and prove every row."""
    from shopcli.store.whole.moving import move

    shop, target = shop_of(args), find_place(args.place)
    count = move(shop.place, target)
    print(clean(f"Moved: {count} rows, every one compared, to {target.label}"))
    _say_how(target)
    return 0


def _say_how(target: Place) -> None:
    where = target.file or "the URL of the server"
    print(
        clean(
            f"Let every terminal start with --db or SHOPCLI_DB naming {where}; photos are files of their own."
        )
    )
