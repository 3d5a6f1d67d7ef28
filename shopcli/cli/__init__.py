"""The shop without a terminal screen: the same acts and the same views, as commands.

Data goes to standard output, talk to standard error; ``--json`` where data comes out. Exit status: 0 done,
1 the answer is "no" (a closing check that hinders, a library with problems), 2 refused or cannot be read.
"""

import importlib
import os
import sys
from collections.abc import Sequence

from shopcli.errors import ShopError

REFUSED = 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; without one, start the terminal application."""
    from shopcli.cli.parser import parse

    args = parse(argv)
    module, _, name = args.handler.partition(":")
    try:
        handler = getattr(importlib.import_module(f"shopcli.cli.{module}"), name)
        return int(handler(args) or 0)
    except ShopError as error:
        from shopcli.columns import (
            shown,
        )  # what was typed may stand in the message, and must not drive the terminal

        print(shown(f"{error.title}: {error.message}"), file=sys.stderr)
        if error.hint:
            print(shown(error.hint), file=sys.stderr)
        return REFUSED
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # The reader went away (``| head``); nothing is wrong, but Python would complain on exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
