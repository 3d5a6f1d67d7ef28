"""What every key does, and whether the settings' own choice of keys can be taken."""

import sys
from argparse import Namespace

from shopcli.cli.common import clean, print_json, table
from shopcli.shop.settings import load_settings
from shopcli.store.place import find_place, find_settings


def keys(args: Namespace) -> int:
    """Print the acts with their keys as they are in force; complaints go to the error stream."""
    from shopcli.screens.acts import ACTS, key_names
    from shopcli.screens.keymap import keys_in_force, sound

    place = find_place(getattr(args, "db", None))
    settings = load_settings(find_settings(getattr(args, "settings", None), place))
    taken, complaints = sound(dict(settings.keys))
    in_force = keys_in_force(taken)
    if args.json:
        print_json([{"act": a.id, "keys": in_force[a.id].split(","), "does": a.help} for a in ACTS])
    else:
        print(
            table(("act", "keys", "what it does"), [(a.id, key_names(in_force[a.id]), a.help) for a in ACTS])
        )
    for complaint in complaints:
        print(clean(complaint), file=sys.stderr)
    return 1 if complaints else 0
