"""A card's bill as it stands, for whoever works on it: lines with their signs, discounts, the foot."""

from dataclasses import dataclass
from decimal import Decimal

from shopcli.errors import NotFound
from shopcli.shop.amounts import from_minor
from shopcli.shop.bill import BillAllowance, BillLine
from shopcli.shop.card_bill import CardBill, card_bill
from shopcli.shop.credited import credited
from shopcli.shop.discounts import Given, given
from shopcli.store.reads.bills import bill_of_card
from shopcli.store.shop import Shop


@dataclass(frozen=True, slots=True)
class DiscountView:
    """A discount that stands; `words` is its sum or per cent."""

    id: int
    line: str
    charge: bool
    words: str
    reason: str


@dataclass(frozen=True, slots=True)
class BillNow:
    """The bill of a card, issued or not; `foot` is its sums by name, from the lines to what is due."""

    issued: bool
    currency: str
    lines: tuple[BillLine, ...]
    allowances: tuple[BillAllowance, ...]
    discounts: tuple[DiscountView, ...]
    foot: tuple[tuple[str, Decimal], ...]
    due: Decimal


def bill_now(shop: Shop, card_id: int) -> BillNow:
    """Return the bill of a card: as issued where it is, else as it stands."""
    try:
        bill = bill_of_card(shop, card_id)
    except NotFound:
        return _standing(shop, card_id, card_bill(shop.fetch, card_id, shop.settings, shop.at()))
    from shopcli.shop.balance import balance

    now = balance(shop.fetch, card_id)
    foot = [
        ("without tax", bill.without_vat),
        (f"{bill.tax_word}", bill.tax),
        (f"invoice {bill.number}", bill.with_vat + bill.rounding),
        ("paid", -now.paid),
    ]
    if now.credited:
        foot.append(("credited", -credited(shop.fetch, card_id)))
    return BillNow(True, bill.currency, bill.lines, bill.allowances, (), (*foot, ("due", now.due)), now.due)


def _standing(shop: Shop, card_id: int, now: CardBill) -> BillNow:
    t, word = now.totals, shop.settings.tax_word
    foot = [
        *(("off the whole", -t.allowances) for _ in range(bool(t.allowances))),
        *(("put on the whole", t.charges) for _ in range(bool(t.charges))),
        ("without tax", t.without_vat),
        *((f"{word} {g.percent.normalize():f} % on {g.basis}", g.tax) for g in t.groups),
        ("with tax", t.with_vat),
        *(("paid", -t.paid) for _ in range(bool(t.paid))),
        *(("rounding", t.rounding) for _ in range(bool(t.rounding))),
        ("due", t.due),
    ]
    discounts = tuple(_view(one) for one in given(shop.fetch, card_id))
    return BillNow(False, shop.settings.currency, now.lines, now.allowances, discounts, tuple(foot), t.due)


def _view(one: Given) -> DiscountView:
    rate = one.rate
    words = f"{from_minor(one.amount_minor or 0)}" if rate is None else f"{rate.normalize():f} %"
    return DiscountView(one.id, one.line, one.charge, words, one.reason)
