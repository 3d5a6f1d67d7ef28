"""What the register of measuring tools shows: each with what it reads, when it is due, and what is against it today."""

from datetime import UTC, datetime, time

from shopcli.errors import NotFound
from shopcli.store.reads.open_cards import as_date
from shopcli.store.shop import Shop
from shopcli.worklists.tools import WRENCH, OwnedTool, Span, due_of, trouble_of

TOOLS = """
SELECT id, name, kind, low, high, unit, graduation, blades, calibrated, certificate, cycles, note, retired_at,
       retired_for, version
FROM tool ORDER BY CASE WHEN retired_at IS NULL THEN 0 ELSE 1 END, kind, name"""
PULLED = "SELECT COUNT(*) FROM reading WHERE tool_id = ? AND at >= ?"


def tools(shop: Shop, *, retired: bool = False) -> tuple[OwnedTool, ...]:
    """Return the tools in use, and with `retired` those out of use after them."""
    today = shop.local(shop.at()).date()
    months, most = shop.settings.tool_months, shop.settings.tool_cycles
    found = []
    for row in shop.fetch(TOOLS):
        key, name, kind, low, high, unit, step, blades, on, certificate, noted, note, gone, why, version = row
        if gone is not None and not retired:
            continue
        calibrated = as_date(on)
        cycles = noted + (_pulled(shop, key, on) if kind == WRENCH else 0)
        found.append(
            OwnedTool(
                id=key,
                name=name,
                kind=kind,
                span=None if low is None or high is None else Span(low, high, unit, step),
                blades=blades,
                calibrated=calibrated,
                due=due_of(calibrated, months),
                cycles=cycles,
                trouble=trouble_of(kind, calibrated, cycles, today, months, most),
                certificate=certificate,
                note=note,
                retired_for=(why or "no reason written") if gone is not None else "",
                version=version,
            )
        )
    return tuple(found)


def _pulled(shop: Shop, tool_id: int, calibrated: str) -> int:
    on = as_date(calibrated)
    since = datetime.combine(on, time(), shop.settings.tz()).astimezone(UTC).timestamp() if on else 0
    return int(shop.fetch(PULLED, (tool_id, int(since)))[0][0])


def tool_named(shop: Shop, name: str, *, retired: bool = False) -> OwnedTool:
    """Return the tool of that name, or the only one that begins so.

    Raises
    ------
    NotFound
        When none or more than one is meant.
    """
    text = " ".join(name.casefold().split())
    every = tools(shop, retired=retired)
    found = [t for t in every if t.name.casefold() == text] or [
        t for t in every if t.name.casefold().startswith(text)
    ]
    if len(found) == 1 and text:
        return found[0]
    names = "; ".join(t.name for t in found or every) or "The register is empty."
    raise NotFound(f"{'which' if found else 'no'} tool is '{name.strip()[:40]}'", hint=names)
