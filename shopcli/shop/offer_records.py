"""The tables of offers and of what was answered to them."""

from typing import Any, ClassVar

from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import seconds


class Offer(SQLModel, table=True):
    """An offer as it was made: figures, words and number, fixed for good by triggers.

    It is for a vehicle, or for more work on an open card. `usual_min` and `most_min` are hands-on minutes half, and
    four in five, of such jobs stay within; `gross_minor` and `most_minor` the sums with VAT at these.
    """

    id: int | None = Field(default=None, primary_key=True)
    number: int = Field(unique=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    card_id: int | None = Field(default=None, foreign_key="card.id", index=True)
    templates: str
    words: str = ""
    made_at: int = seconds(index=True)
    made_by: int = Field(foreign_key="person.id")
    valid_until: str
    usual_min: int
    most_min: int
    net_minor: int
    vat_minor: int
    gross_minor: int
    most_minor: int
    body: str


class OfferAnswer(SQLModel, table=True):
    """What the customer answered to an offer, once: who said it, how it came, up to what sum, or why not."""

    __tablename__: ClassVar[Any] = "offer_answer"
    id: int | None = Field(default=None, primary_key=True)
    offer_id: int = Field(foreign_key="offer.id", unique=True)
    answer: str
    said_by: str = ""
    how: str = ""
    amount_minor: int | None = None
    reason: str = ""
    at: int = seconds()
    taken_by: int = Field(foreign_key="person.id")
