"""The application for browsers: ``shopcli browser`` serves it on this machine until Ctrl+C."""

import asyncio
import os
import signal
import sys
from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path

from shopcli.browser.gate import is_here, public_origin
from shopcli.cli.opening import shop_of
from shopcli.errors import BadInput, StoreTrouble
from shopcli.store.place import ENVIRONMENT, SETTINGS_ENVIRONMENT, find_settings
from shopcli.store.shop import Shop

TYPE_CHECKING = False
if TYPE_CHECKING:
    from argparse import Namespace

    from shopcli.browser.server import Server, Wanted

DRIVER = "shopcli.screens.browser_driver:BrowserDriver"
# All of the server's surroundings that the application is given: no name of a person, no key of another program.
HANDED_ON = frozenset(
    """
    PATH HOME USER LOGNAME LANG LANGUAGE TZ TMPDIR SYSTEMROOT VIRTUAL_ENV PYTHONPATH PYTHONHOME
    XDG_DATA_HOME XDG_CONFIG_HOME XDG_STATE_HOME XDG_CACHE_HOME XDG_RUNTIME_DIR SHOPCLI_ASCII
    PGPASSFILE PGPASSWORD PGSSLMODE PGSSLROOTCERT PGSSLCERT PGSSLKEY PGSERVICEFILE
    """.split()  # noqa: SIM905 - a list of names is read more easily as words
)
ONLY_BEHIND_TLS = (
    "What is typed there, PINs too, would go over the network as plain words. Leave the server on this machine and put a "
    "proxy that speaks TLS in front of it (--public https://…, see the README); --other-machines serves there even so."
)
EVERY_ADDRESS = frozenset({"0.0.0.0", "::", ""})  # noqa: S104 - refused unless its name is given
NAME_IT = "Say what browsers call it: --public https://desk.example"


def surroundings(shop: Shop, settings: Path, given: Mapping[str, str]) -> dict[str, str]:
    """Return the environment the application starts in: which records, from the server alone, and a terminal's."""
    kept = {name: value for name, value in given.items() if name in HANDED_ON or name.startswith("LC_")}
    records = str(shop.place.file.absolute()) if shop.place.file else shop.place.dsn
    return {
        **kept,
        ENVIRONMENT: records,
        SETTINGS_ENVIRONMENT: str(settings.absolute()),
        "TEXTUAL_DRIVER": DRIVER,
        "TEXTUAL_COLOR_SYSTEM": "truecolor",
        "TERM": "xterm-256color",
    }


def _see_where(args: "Namespace") -> None:
    public = public_origin(args.public)[1] if args.public else ""
    if args.host in EVERY_ADDRESS and not public:
        raise BadInput(
            f"{args.host} is every address, and the desk answers to its own name alone", hint=NAME_IT
        )
    if args.other_machines:
        return
    if not is_here(args.host):
        raise BadInput(f"{args.host} is reached from other machines", hint=ONLY_BEHIND_TLS)
    if public.startswith("http:"):
        raise BadInput(f"{args.public} is no address of TLS", hint=ONLY_BEHIND_TLS)


def _see_pins(shop: Shop) -> None:
    if shop.fetch("SELECT COUNT(*) FROM pin")[0][0] == 0:
        raise BadInput(
            "nobody has a PIN, and in a browser nobody is let in without",
            hint="Set one at the shop's own terminal (F8, then F2) or with: shopcli pin-set NAME",
        )


def browser(args: "Namespace") -> int:
    """Serve the application to browsers until it is ended.

    Raises
    ------
    BadInput
        When what serves is not installed, nobody could sign in, or other machines would be served unasked.
    StoreTrouble
        When the address is taken, or is not this machine's.
    """
    _see_where(args)
    if find_spec("aiohttp") is None or find_spec("textual_serve") is None:
        raise BadInput("what serves browsers is not installed", hint="pip install 'shopcli[browser]'")
    from shopcli.browser.pages import Starts
    from shopcli.browser.server import Wanted

    shop = shop_of(args)
    try:
        _see_pins(shop)
        settings = Path(find_settings(getattr(args, "settings", None), shop.place))
        environment = surroundings(shop, settings, os.environ)
    finally:
        shop.close()
    starts = Starts((sys.executable, "-m", "shopcli.cli.behind_page"), environment, args.idle * 60)
    # By that name there would be two addresses, each with a free port of its own.
    host = "127.0.0.1" if args.host == "localhost" else args.host
    wanted = Wanted(starts, host, args.port, args.public, args.most, args.until_idle * 60)
    try:
        asyncio.run(_serve(wanted))
    except OSError as error:
        reason = error.strerror or str(error)
        raise StoreTrouble(
            f"{args.host}, port {args.port}: {reason}", hint="Choose another --port or --host."
        ) from error
    return 0


async def _serve(wanted: "Wanted") -> None:
    from shopcli.browser.server import Server

    server = Server(wanted)
    loop = asyncio.get_running_loop()
    for one in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        loop.add_signal_handler(one, server.end)
    await server.serve(_told)


def _told(server: "Server") -> None:
    print("The desk is served. This link lets a browser in; keep it to yourself:", file=sys.stderr)
    print(server.start_url, flush=True)
    print("Ctrl+C ends it.", file=sys.stderr)
