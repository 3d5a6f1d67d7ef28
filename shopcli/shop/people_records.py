"""The tables of people, customers and vehicles."""

from sqlalchemy import false
from sqlmodel import Field, SQLModel

from shopcli.shop.record_base import Versioned, lock_versions, seconds


class Person(Versioned, table=True):
    """Somebody who works here."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    role: str
    units: str = "metric"
    active: bool = True


class Pin(SQLModel, table=True):
    """What proves that somebody is who they say: a hash by argon2id, never the PIN. Neither journal nor views read it.

    `wrong_tries` are those since the last right one, `tried_at` is when the last of them was.
    """

    person_id: int = Field(
        primary_key=True, foreign_key="person.id", sa_column_kwargs={"autoincrement": False}
    )
    hash: str
    set_at: int = seconds()
    set_by: int = Field(foreign_key="person.id")
    wrong_tries: int = 0
    tried_at: int = seconds()


class Customer(Versioned, table=True):
    """Somebody who owns cars."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True)
    phone: str = ""
    email: str = ""
    address: str = ""
    note: str = ""
    city: str = Field(default="", sa_column_kwargs={"server_default": ""})
    post_code: str = Field(default="", sa_column_kwargs={"server_default": ""})
    country: str = Field(default="", sa_column_kwargs={"server_default": ""})
    vat_number: str = Field(default="", sa_column_kwargs={"server_default": ""})
    reverse_charge: bool = Field(default=False, sa_column_kwargs={"server_default": false()})


class Vehicle(Versioned, table=True):
    """A car, with the facts its work lists are expanded from."""

    id: int | None = Field(default=None, primary_key=True)
    customer_id: int = Field(foreign_key="customer.id", index=True)
    registration: str = Field(unique=True)
    make: str
    model: str = ""
    year: int | None = None
    chassis_number: str = ""
    engine_number: str = ""
    distance_unit: str = "mi"
    sheet: str = ""
    facts: str = "{}"
    note: str = ""


lock_versions(Person, Customer, Vehicle)
