"""The tables of people, customers and vehicles."""

from sqlalchemy import false
from sqlmodel import Field

from shopcli.shop.record_base import Versioned, lock_versions


class Person(Versioned, table=True):
    """Somebody who works here."""

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    role: str
    pin_hash: str = ""
    units: str = "metric"
    active: bool = True


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
