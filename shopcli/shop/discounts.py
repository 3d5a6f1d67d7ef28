"""What is taken off a bill, reckoned: off one line, or off the whole and then spread over the VAT groups.

A per cent off the whole is taken of each group by itself, so that every allowance is its base times its rate
to the cent. A fixed sum is spread over the groups in proportion to their nets, and the cents that are left go
to the groups with the largest remainders, the larger group first where remainders are equal. Nothing is taken off beyond
what is there.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import NamedTuple

from shopcli.shop.amounts import EXACT, ZERO, from_minor, rounded
from shopcli.shop.bill import BillAllowance
from shopcli.shop.fetching import Fetch
from shopcli.shop.money import Taxed

DISCOUNTS_SQL = """
SELECT id, line, charge, amount_minor, rate_hundredths, reason FROM discount
WHERE card_id = ? AND removed_at IS NULL ORDER BY id"""
HUNDRED = Decimal(100)


class Given(NamedTuple):
    """A discount as it stands in the records; of `amount_minor` and `rate_hundredths` one is None."""

    id: int
    line: str
    charge: bool
    amount_minor: int | None
    rate_hundredths: int | None
    reason: str

    @property
    def rate(self) -> Decimal | None:
        """Per cent, None for a fixed sum."""
        return None if self.rate_hundredths is None else Decimal(self.rate_hundredths) / HUNDRED

    def of(self, base: Decimal) -> Decimal:
        """Return what is taken off (or put on) a base, in whole cents, never more than the base."""
        if base <= 0:
            return ZERO
        rate = self.rate
        amount = from_minor(self.amount_minor or 0) if rate is None else part_of(base, rate)
        return amount if self.charge else min(amount, base)


def part_of(base: Decimal, percent: Decimal) -> Decimal:
    """Return so many per cent of an amount, rounded half-up to cents.

    Examples
    --------
    >>> part_of(Decimal("100.10"), Decimal("2.5"))
    Decimal('2.50')
    """
    return rounded(EXACT.divide(EXACT.multiply(base, percent), HUNDRED))


def given(fetch: Fetch, card_id: int) -> tuple[Given, ...]:
    """Return the discounts that stand on a card."""
    return tuple(
        Given(key, line, bool(charge), amount, rate, reason)
        for key, line, charge, amount, rate, reason in fetch(DISCOUNTS_SQL, (card_id,))
    )


def spread(amount: Decimal, bases: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Spread an amount over bases in proportion, to whole cents that sum to it exactly.

    Parameters
    ----------
    amount : Decimal
        What is spread, zero or more, in whole cents, [currency]
    bases : sequence of Decimal
        What it is spread over, each zero or more, their sum above zero, [currency]

    Examples
    --------
    >>> spread(Decimal("10.00"), [Decimal(1), Decimal(1), Decimal(1)])
    (Decimal('3.34'), Decimal('3.33'), Decimal('3.33'))
    """
    whole = sum(bases, ZERO)
    cents = int(amount * HUNDRED)
    shares = [divmod(cents * int(base * HUNDRED), int(whole * HUNDRED)) for base in bases]
    parts = [share for share, _rest in shares]
    order = sorted(range(len(bases)), key=lambda n: (-shares[n][1], -bases[n], n))
    for n in order[: cents - sum(parts)]:
        parts[n] += 1
    return tuple(from_minor(part) for part in parts)


def off_the_whole(discounts: Iterable[Given], lines: Iterable[Taxed]) -> tuple[BillAllowance, ...]:
    """Return what stands at the foot of a bill: each discount and charge on the whole, group by group."""
    nets: dict[tuple[str, Decimal], tuple[Decimal, str]] = {}
    for line in lines:
        key = (line.category, line.percent)
        net, name = nets.get(key, (ZERO, line.vat))
        nets[key] = (net + line.net, name)
    groups = [
        (key, net, name)
        for key, (net, name) in sorted(nets.items(), key=lambda g: (-g[0][1], g[0][0]))
        if net > 0
    ]
    left = [net for _key, net, _name in groups]
    found: list[BillAllowance] = []
    for one in discounts:
        if one.line or not groups:
            continue
        rate = one.rate
        if rate is not None:
            amounts = tuple(part_of(net, rate) for _key, net, _name in groups)
        else:
            amounts = spread(one.of(sum((net for _key, net, _name in groups), ZERO)), [g[1] for g in groups])
        for n, ((category, percent), net, name) in enumerate(groups):
            amount = amounts[n] if one.charge else min(amounts[n], left[n])
            if not amount:
                continue
            if not one.charge:
                left[n] -= amount
            whole = rate is not None and amount == amounts[n]
            found.append(
                BillAllowance(
                    charge=one.charge,
                    amount=amount,
                    vat=name,
                    percent=percent,
                    category=category,
                    reason=one.reason,
                    base=net if whole else None,
                    rate=rate if whole else None,
                )
            )
    return tuple(found)
