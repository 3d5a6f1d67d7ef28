"""The shop without a terminal screen: the same acts and the same views, as commands.

Data goes to standard output, talk to standard error; ``--json`` where data comes out. Exit status: 0 done,
1 the answer is "no" (a closing check that hinders, a library with problems), 2 refused or cannot be read.
"""

import gc
import importlib
import os
import sys
from collections.abc import Sequence

from shopcli.cli.asked import plainly
from shopcli.errors import ShopError

TYPE_CHECKING = False  # what is asked of the program is answered before typing could be loaded
if TYPE_CHECKING:
    from typing import Any

REFUSED = 2


def _asked(argv: Sequence[str]) -> "Any":
    if list(argv) == ["--version"]:
        from shopcli import __version__

        print(f"shopcli {__version__}")
        raise SystemExit(0)
    if list(argv) in (["--help"], ["-h"]):
        from shopcli.cli.help_page import help_page

        print(help_page(), end="")
        raise SystemExit(0)
    found = plainly(argv)
    if found is not None:
        gc.disable()  # nothing made while starting is rubbish; on again with the first picture, or when all is said
        return found
    from shopcli.cli.parser import parse

    return parse(argv)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; without one, start the terminal application."""
    args = _asked(sys.argv[1:] if argv is None else argv)
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
    finally:
        gc.enable()
