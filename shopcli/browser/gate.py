"""Who may come in: the right name in the address, the page of no other site, and a key changed for a cookie.

Plain values in, a refusal in words out; nothing here knows a web server.
"""

import ipaddress
import secrets
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlsplit

from shopcli.errors import BadInput

COOKIE = "shopcli-desk"
COOKIES_MOST = 50  # of those given out longest ago none is known any more
KEY_BYTES = 32
USUAL_PORTS = {"http": 80, "https": 443}
NAMES_HERE = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why somebody does not come in: an HTTP status and words."""

    status: int
    words: str


WRONG_HOST = Refusal(403, "This address is not one the desk answers to.")
WRONG_ORIGIN = Refusal(403, "The page of another site asked for this. It is refused.")
WRONG_KEY = Refusal(
    403, "That key does not open the desk. Take the link the server printed when it was started."
)
NO_COOKIE = Refusal(
    403, "The desk is shut here. Open it with the link the server printed when it was started."
)


def is_here(host: str) -> bool:
    """Return whether an address is this machine's own and no other machine reaches it.

    Examples
    --------
    >>> [is_here(host) for host in ("127.0.0.1", "::1", "localhost", "0.0.0.0", "192.0.2.7", "desk.example")]
    [True, True, True, False, False, False]
    """
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def url_name(host: str) -> str:
    """Return an address as it is written in a URL."""
    return f"[{host}]" if ":" in host else host


def public_origin(url: str) -> tuple[str, str]:
    """Return how a browser names the server in ``Host`` and in ``Origin`` when it is reached by that URL.

    Raises
    ------
    BadInput
        When it is not ``https://name`` or ``http://name``, perhaps with a port.

    Examples
    --------
    >>> public_origin("https://Desk.example:443/"), public_origin("http://192.0.2.7:8080")
    (('desk.example', 'https://desk.example'), ('192.0.2.7:8080', 'http://192.0.2.7:8080'))
    """
    try:
        parts = urlsplit(url)
        name, port = parts.hostname, parts.port
    except ValueError as error:
        raise _bad_public() from error
    if parts.scheme not in USUAL_PORTS or not name or parts.path.strip("/") or parts.query or parts.username:
        raise _bad_public()
    name = url_name(name)
    host = name if port in (None, USUAL_PORTS[parts.scheme]) else f"{name}:{port}"
    return host, f"{parts.scheme}://{host}"


def _bad_public() -> BadInput:
    return BadInput(
        "that is not the address of a site", hint="Write it like https://desk.example, without a path."
    )


def origins(host: str, port: int, public: str = "") -> Mapping[str, str]:
    """Return what ``Host`` may say, and the ``Origin`` that belongs to each.

    Examples
    --------
    >>> sorted(origins("127.0.0.1", 8123))
    ['127.0.0.1:8123', '[::1]:8123', 'localhost:8123']
    >>> origins("0.0.0.0", 80, "https://desk.example")["desk.example"]
    'https://desk.example'
    """
    names = NAMES_HERE if is_here(host) else (*NAMES_HERE, url_name(host))
    found = dict(public_origin(f"http://{name}:{port}") for name in names)
    if public:
        found.update([public_origin(public)])
    return found


class Gate:
    """Looks at each request; remembers only the cookies it gave out."""

    def __init__(self, known: Mapping[str, str]) -> None:
        self._known = known
        self.key = secrets.token_urlsafe(KEY_BYTES)
        self._cookies: OrderedDict[str, None] = OrderedDict()

    def address_refusal(self, host: str, origin: str | None, *, wants_origin: bool) -> Refusal | None:
        """Return why a request is not for us or comes from another site's page, None when all is well."""
        ours = self._known.get(host.lower())
        if ours is None:
            return WRONG_HOST
        if origin is None:
            return WRONG_ORIGIN if wants_origin else None
        return None if secrets.compare_digest(origin.encode(), ours.encode()) else WRONG_ORIGIN

    def line(self, host: str) -> str:
        """Return the origin of a page's line to us when its browser names us so; nothing for a wrong name."""
        return self._known.get(host.lower(), "").replace("http", "ws", 1)

    def secure(self, host: str) -> bool:
        """Return whether a browser that names us so speaks TLS."""
        return self._known.get(host.lower(), "").startswith("https:")

    def cookie_for(self, key: str) -> str | None:
        """Return a fresh cookie for the right key, None for another."""
        if not secrets.compare_digest(key.encode(errors="replace"), self.key.encode()):
            return None
        made = secrets.token_urlsafe(KEY_BYTES)
        self._cookies[made] = None
        while len(self._cookies) > COOKIES_MOST:
            self._cookies.popitem(last=False)
        return made

    def knows(self, cookie: str | None) -> bool:
        """Return whether a cookie is one of those given out; each is compared, however early one fits."""
        asked = (cookie or "").encode(errors="replace")
        fits = [secrets.compare_digest(asked, given.encode()) for given in self._cookies]
        return any(fits)
