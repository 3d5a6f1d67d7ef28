"""The line that says which page of the stores this is, what the others hold, and what is late on them."""

from shopcli.columns import cut
from shopcli.shop.stores_views import StoresCounts

NAMES = {
    "shelf": "Shelf",
    "needs": "To order",
    "purchases": "Orders",
    "outwork": "Outwork",
    "exchanges": "Exchanges",
}


def _held(page: str, counts: StoresCounts | None) -> str:
    if counts is None or page == "shelf":
        return ""
    count, late = {
        "needs": (counts.to_order, 0),
        "purchases": (counts.orders, counts.orders_late),
        "outwork": (counts.outwork, counts.outwork_late),
        "exchanges": (counts.exchanges, 0),
    }[page]
    return (f" {count}" if count else "") + (f" !{late} late" if late else "")


def pages_line(page: str, counts: StoresCounts | None, width: int) -> list[tuple[str, str]]:
    """Return the pages with what stands on each, the one in front in brackets.

    Examples
    --------
    >>> "".join(text for text, _style in pages_line("needs", StoresCounts(7, 2, 1, 0, 0, 3), 80))
    ' Shelf  [To order 7]  Orders 2 !1 late   Outwork   Exchanges 3 '
    """
    found: list[tuple[str, str]] = []
    for name, word in NAMES.items():
        text = word + _held(name, counts)
        here = name == page
        style = "bold reverse" if here else "$text-warning" if "late" in text else ""
        found.append((f"[{text}]" if here else f" {text} ", style))
        found.append((" ", ""))
    whole = "".join(text for text, _style in found)
    return found[:-1] if len(whole) <= width + 1 else [(cut(whole, width), "")]
