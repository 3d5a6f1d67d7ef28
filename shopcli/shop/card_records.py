"""The tables of cards, their tasks and the wishes for their order."""

from typing import Any, ClassVar

from sqlalchemy import Index
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Card(Versioned, table=True):
    """A job card."""

    __table_args__: ClassVar[Any] = (
        Index("ix_card_opened", "opened_at", "state"),
        Index("ix_card_handed", "handed_at", "opened_at"),
    )
    id: int | None = Field(default=None, primary_key=True)
    number: str = Field(unique=True)
    vehicle_id: int = Field(foreign_key="vehicle.id", index=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    state: str = Field(index=True)
    held_for: str = ""
    title: str = ""
    words: str = ""
    left_with: str = ""
    car_keys: str = Field(default="", sa_column_kwargs={"server_default": ""})
    fuel: str = Field(default="", sa_column_kwargs={"server_default": ""})
    damage: str = Field(default="", sa_column_kwargs={"server_default": ""})
    odometer: int | None = None
    authority_minor: int | None = None
    authority_by: str = ""
    authority_how: str = Field(default="", sa_column_kwargs={"server_default": ""})
    authority_at: int | None = seconds(nullable=True)
    offer_id: int | None = Field(default=None, foreign_key="offer.id", index=True)
    promised: str = ""
    opened_at: int = seconds()
    opened_by: int = Field(foreign_key="person.id")
    checked_at: int | None = seconds(nullable=True)
    checked_by: int | None = Field(default=None, foreign_key="person.id")
    closed_at: int | None = seconds(nullable=True, index=True)
    closed_by: int | None = Field(default=None, foreign_key="person.id")
    closed_week: str = Field(default="", index=True)
    expected_minutes: int = 0
    hands: int | None = None
    handed_at: int | None = seconds(nullable=True)
    handed_by: int | None = Field(default=None, foreign_key="person.id")
    handed_to: str = Field(default="", sa_column_kwargs={"server_default": ""})
    waits_for_parts: bool = False


class CardTemplate(SQLModel, table=True):
    """Which templates a card was expanded from, in which version."""

    __tablename__: ClassVar[Any] = "card_template"
    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    template: str = Field(index=True)
    title: str
    template_version: str
    expected_minutes: int = 0


class Task(Versioned, table=True):
    """One step of a card; `frozen` keeps the expansion with the numbers it was made with.

    `own_per_mille` is the shop's own factor that is in its `minutes`, in thousandths of what the template lists.
    """

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    position: int
    key: str
    template: str
    title: str
    state: str
    minutes: int = 0
    own_per_mille: int = Field(default=1000, sa_column_kwargs={"server_default": "1000"})
    waits: int = 0
    place: str = ""
    second: bool = False
    frozen: str
    done_by: int | None = Field(default=None, foreign_key="person.id")
    done_at: int | None = seconds(nullable=True)
    left_out_for: str = ""
    second_by: int | None = Field(default=None, foreign_key="person.id")
    second_at: int | None = seconds(nullable=True)
    note: str = ""


class Wish(SQLModel, table=True):
    """Somebody's wish about when a task is done or by whom; given back, never deleted.

    `nth` counts from the first task of the card, settled ones and all, so that a wish means the same when work goes on.
    """

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    task_id: int = Field(foreign_key="task.id")
    kind: str
    nth: int = 0
    other_id: int | None = Field(default=None, foreign_key="task.id")
    person_id: int | None = Field(default=None, foreign_key="person.id")
    asked_by: int = Field(foreign_key="person.id")
    asked_at: int = seconds()
    given_back_by: int | None = Field(default=None, foreign_key="person.id")
    given_back_at: int | None = seconds(nullable=True)


class Waiver(SQLModel, table=True):
    """A hindrance set aside by name and with a reason."""

    id: int | None = Field(default=None, primary_key=True)
    card_id: int = Field(foreign_key="card.id", index=True)
    hindrance: str
    reason: str
    waived_by: int = Field(foreign_key="person.id")
    at: int = seconds()


lock_versions(Card, Task)
