"""What a customer owes on a card's invoice, or has in hand, reckoned from the rows by one sum."""

from dataclasses import dataclass
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.credited import credited
from shopcli.shop.fetching import Fetch
from shopcli.shop.pricing import paid

INVOICED_SQL = "SELECT COALESCE(SUM(gross_minor), 0) FROM invoice WHERE card_id = ?"


@dataclass(frozen=True, slots=True)
class Balance:
    """The account of one card."""

    invoiced: Decimal
    credited: Decimal
    paid: Decimal

    @property
    def due(self) -> Decimal:
        """What is left to pay; below zero is in the customer's favour."""
        return self.invoiced - self.credited - self.paid


def balance(fetch: Fetch, card_id: int) -> Balance:
    """Return the account of a card; before the invoice everything paid is in the customer's favour."""
    invoiced = from_minor(int(fetch(INVOICED_SQL, (card_id,))[0][0]))
    return Balance(invoiced, credited(fetch, card_id), paid(fetch, card_id))


def over_due(due: Decimal, given: Decimal) -> Decimal:
    """Return how much of a sum given is more than is due; nothing where the customer is in favour is due.

    Examples
    --------
    >>> over_due(Decimal(36), Decimal(48)), over_due(Decimal(36), Decimal(20)), over_due(Decimal(-5), Decimal(8))
    (Decimal('12'), Decimal('0'), Decimal('8'))
    """
    return max(given - max(due, Decimal(0)), Decimal(0))
