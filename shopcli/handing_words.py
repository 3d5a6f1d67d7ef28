"""A closed card at the counter, in words: what is to pay, what goes back with the car, what is due next."""

from decimal import Decimal

from shopcli.columns import shown
from shopcli.papers.arrange import due
from shopcli.present import day, money, severity
from shopcli.shop.amounts import from_minor
from shopcli.shop.balance import over_due
from shopcli.shop.handing_view import Handing, MoneyNow
from shopcli.shop.settings import Settings
from shopcli.shop.views import CardView
from shopcli.where_words import Block, Line


def handing_blocks(seen: Handing, settings: Settings) -> tuple[Block, ...]:
    """Return what is to pay, whether the car is fetched, what goes back with it, and what comes next."""
    return (
        Block("To pay", _to_pay(seen, settings)),
        Block("The car", _car(seen.view)),
        Block("Due next", _due_next(seen.view), side=True),
        Block("Seen and not done", _findings(seen.view), side=True),
    )


def money_words(now: MoneyNow, settings: Settings) -> str:
    """Say in a line what is due before money is taken: on the invoice, or as the card stands so far."""
    currency = settings.currency
    if now.invoice:
        return _left_words(now.due, now.invoice, currency)
    paid = f", {money(now.paid, currency)} paid" if now.paid else ""
    so_far = f"so far {money(now.with_vat, currency)} {settings.with_tax}{paid}"
    return f"{so_far}: {money(now.due, currency)} as it stands"


def over_words(now: MoneyNow, given_minor: int, currency: str) -> str:
    """Say how much of a sum is more than is due on the invoice; nothing when it is not, or there is none yet.

    Examples
    --------
    >>> from types import SimpleNamespace
    >>> now = SimpleNamespace(invoice="7", due=Decimal(36))
    >>> over_words(now, 4_800, "GBP"), over_words(now, 3_600, "GBP")
    ('£12.00', '')
    """
    over = over_due(now.due, from_minor(given_minor)) if now.invoice else Decimal(0)
    return money(over, currency) if over else ""


def due_words(seen: Handing, currency: str) -> str:
    """Say in a line what is left to pay.

    Examples
    --------
    >>> from types import SimpleNamespace
    >>> from shopcli.shop.balance import Balance
    >>> account = Balance(Decimal(72), Decimal(0), Decimal(72))
    >>> due_words(SimpleNamespace(account=account, invoice="7"), "GBP")
    'nothing is due on invoice 7'
    """
    return _left_words(seen.account.due, seen.invoice, currency)


def left_short(left: Decimal, currency: str) -> str:
    """Say in a word or two what is left to pay.

    Examples
    --------
    >>> left_short(Decimal(12), "GBP"), left_short(Decimal(0), "GBP"), left_short(Decimal(-3), "GBP")
    ('£12.00 is due', 'paid', "£3.00 in the customer's favour")
    """
    if left > 0:
        return f"{money(left, currency)} is due"
    return f"{money(-left, currency)} in the customer's favour" if left else "paid"


def _left_words(left: Decimal, invoice: str, currency: str) -> str:
    if left > 0:
        return f"{money(left, currency)} is due on invoice {invoice}"
    if left < 0:
        return f"{money(-left, currency)} is in the customer's favour"
    return f"nothing is due on invoice {invoice}"


def _to_pay(seen: Handing, settings: Settings) -> tuple[Line, ...]:
    account, currency = seen.account, settings.currency
    lines: list[Line] = [
        (shown(due_words(seen, currency)), "next" if account.due <= 0 else "open"),
        (shown(f"invoice {seen.invoice}: {money(account.invoiced, currency)} {settings.with_tax}"), ""),
    ]
    if account.credited:
        lines.append((f"{money(account.credited, currency)} credited", ""))
    lines += [
        (
            shown(", ".join(filter(None, (f"{p.kind} {money(p.amount, currency)}", p.method, day(p.on))))),
            "quiet",
        )
        for p in seen.payments
    ]
    if account.due > Decimal(0) and seen.due_by is not None:
        lines.append((f"to be paid by {day(seen.due_by)} {seen.due_by.year}", "quiet"))
    return tuple(lines)


def _car(view: CardView) -> tuple[Line, ...]:
    if view.handed is not None:
        gone: Line = (shown(f"handed over to {view.handed_to}, {day(view.handed.date())}"), "next")
    else:
        gone = ("not fetched yet", "open")
    back = [
        ("keys", view.car_keys),
        ("left in it", view.left_with),
        ("fuel", view.fuel),
        ("damage", view.damage),
    ]
    return (gone, *((shown(f"{name}: {text}"), "") for name, text in back if text))


def _due_next(view: CardView) -> tuple[Line, ...]:
    found = tuple(
        (shown(f"{o.title}: {due(o, view.distance_unit)}"), "") for o in view.owed if o.state == "owed"
    )
    return found or (("nothing was promised", "quiet"),)


def _findings(view: CardView) -> tuple[Line, ...]:
    found = tuple(
        (shown(f"{severity(f.severity)}: {f.place}, {f.what}"), "bad" if f.severity == "stop" else "")
        for f in view.findings
        if f.state == "open"
    )
    return found or (("nothing", "quiet"),)
