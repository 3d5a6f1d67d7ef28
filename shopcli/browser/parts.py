"""What the server hands out beside the application: the page, what it draws with, and words of refusal."""

from collections.abc import Mapping
from html import escape
from importlib.resources import files

from aiohttp import web

from shopcli.browser.gate import Refusal

OURS, THEIRS = "shopcli.browser", "textual_serve"
PAGE = (OURS, "page/page.html", "text/html")
# By name, each with where it is found: no folder is listed or joined with what was asked.
PARTS: Mapping[str, tuple[str, str, str]] = {
    "page.css": (OURS, "page/page.css", "text/css"),
    "page.js": (OURS, "page/page.js", "text/javascript"),
    "terminal.css": (THEIRS, "static/css/xterm.css", "text/css"),
    "terminal.js": (THEIRS, "static/js/textual.js", "text/javascript"),
    "upright.ttf": (THEIRS, "static/fonts/RobotoMono-VariableFont_wght.ttf", "font/ttf"),
    "slanted.ttf": (THEIRS, "static/fonts/RobotoMono-Italic-VariableFont_wght.ttf", "font/ttf"),
}
# The terminal in the page makes style sheets of its own as it goes; scripts come from files of ours alone. Some
# browsers do not take a line to be part of 'self', so it is named.
MAY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; "
    "img-src 'self' data:; connect-src 'self' {line}; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
)
WORDS = (
    '<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>shopcli</title>'
    '<body style="font: 22px/1.5 monospace; margin: 15vh auto; max-width: 34em">{words}\n'
)
HEADERS: Mapping[str, str] = {
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
    "Server": "shopcli",
}


def headers(line: str) -> Mapping[str, str]:
    """Return what is sent along with everything; `line` is the origin of the page's line to us."""
    return {**HEADERS, "Content-Security-Policy": MAY.format(line=line)}


def part(found: tuple[str, str, str]) -> web.Response:
    """Return a part of the page."""
    package, path, kind = found
    return web.Response(
        body=files(package).joinpath(path).read_bytes(), content_type=kind, charset=_charset(kind)
    )


def _charset(kind: str) -> str | None:
    return "utf-8" if kind.startswith("text/") else None


def refused(refusal: Refusal) -> web.Response:
    """Return a refusal in words, as a page one can read from where one stands."""
    text = WORDS.format(words=escape(refusal.words))
    return web.Response(status=refusal.status, text=text, content_type="text/html")
