"""The command that serves browsers, and what it may be told."""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands

PORT_MOST, PAGES_MOST, MINUTES_MOST = 65535, 100, 24 * 60


def _between(low: float, high: float, text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        number = float("nan")
    if not low <= number <= high:
        from argparse import ArgumentTypeError

        raise ArgumentTypeError(f"give a number from {low:g} to {high:g}")
    return number


def port(text: str) -> int:
    """Return a port; 0 takes a free one."""
    return int(_between(0, PORT_MOST, text))


def pages(text: str) -> int:
    """Return how many pages may be open at once."""
    return int(_between(1, PAGES_MOST, text))


def minutes(text: str) -> float:
    """Return a time, 0 for never, [min]."""
    return _between(0, MINUTES_MOST, text)


def add_browser(c: "Commands") -> None:
    """Add the command."""
    p = c.add("browser", "browser:browser", "serve the application to browsers, on this machine alone")
    p.add_argument("--port", type=port, default=0, metavar="N", help="the port (a free one)")
    p.add_argument(
        "--host", default="127.0.0.1", metavar="ADDRESS", help="the address (127.0.0.1: this machine alone)"
    )
    p.add_argument(
        "--other-machines", action="store_true", help="serve an address other machines reach, without TLS"
    )
    p.add_argument(
        "--public",
        default="",
        metavar="URL",
        help="the address browsers use when a proxy stands in front: https://…",
    )
    p.add_argument(
        "--most", type=pages, default=10, metavar="N", help="how many pages may be open at once (10)"
    )
    p.add_argument(
        "--idle",
        type=minutes,
        default=30.0,
        metavar="MIN",
        help="close a page after so long without a key (30; 0: never)",
    )
    p.add_argument(
        "--until-idle",
        type=minutes,
        default=0.0,
        metavar="MIN",
        help="end after so long without any page (0: never)",
    )
