"""Customers and their vehicles."""

import json
import re

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.doubts import doubts
from shopcli.shop.meanwhile import settle
from shopcli.shop.people_commands import AddCustomer, AddVehicle, ChangeCustomer
from shopcli.shop.records import Customer, Vehicle

FIRST_CAR, LATEST = 1880, 2100
DISTANCE_UNITS = ("mi", "km")


COUNTRY = re.compile("[A-Z]{2}")


def add_customer(session: Session, _act: Act, cmd: AddCustomer) -> Change:
    """Write down a customer."""
    customer = saved(session, Customer(**_told(cmd)))
    said = (f"{customer.name} added.", *doubts(vat_number=customer.vat_number))
    return Change("customer", key_of(customer), said=said)


def change_customer(session: Session, act: Act, cmd: ChangeCustomer) -> Change:
    """Change a customer's name, how to reach them, or what their invoices want."""
    customer = get(session, Customer, cmd.customer_id, "customer")
    told = _told(cmd)
    before = {name: getattr(customer, name) for name in told}
    what = f"the entry of {customer.name}"
    for name, text in told.items():
        setattr(customer, name, text)
    settle(session, act, cmd, customer, before, subject="customer", what=what)
    session.add(customer)
    said = (f"{customer.name} changed.", *doubts(vat_number=customer.vat_number))
    if customer.reverse_charge and not customer.vat_number:
        said = (*said, "Without a VAT number there is no reverse charge: their bills have the tax again.")
    after = {name: getattr(customer, name) for name in told}
    return Change("customer", cmd.customer_id, before=before, after=after, said=said)


def _told(cmd: AddCustomer | ChangeCustomer) -> dict[str, str]:
    country = clean_line(cmd.country, name="country", limit=2).upper()
    if country and not COUNTRY.fullmatch(country):
        raise BadInput(f"country '{country}' is none", hint="Two letters, like GB or DE, or nothing.")
    return {
        "name": required_line(cmd.name, name="customer's name"),
        "phone": clean_line(cmd.phone, name="phone", limit=60),
        "email": clean_line(cmd.email, name="email"),
        "address": clean_note(cmd.address, name="address", limit=500),
        "city": clean_line(cmd.city, name="town", limit=80),
        "post_code": clean_line(cmd.post_code, name="post code", limit=20),
        "country": country,
        "vat_number": clean_line(cmd.vat_number, name="VAT number", limit=40).upper(),
    }


def plate(registration: str) -> str:
    """Return a registration as it is kept: upper case, single blanks."""
    return required_line(registration, name="registration", limit=20).upper()


def add_vehicle(session: Session, act: Act, cmd: AddVehicle) -> Change:
    """Write down a vehicle.

    Raises
    ------
    BadInput
        On an impossible year, an unknown distance unit or fact.
    Refused
        When the registration is already known.
    NotFound
        When the sheet is not in the library.
    """
    get(session, Customer, cmd.customer_id, "customer")
    registration = plate(cmd.registration)
    known = session.exec(select(Vehicle).where(Vehicle.registration == registration)).first()
    if known:
        raise Refused(
            f"{registration} is already known ({known.make} {known.model})", hint="Pick it from the list."
        )
    if cmd.year is not None and not FIRST_CAR <= cmd.year <= LATEST:
        raise BadInput(
            f"the year is {cmd.year}", hint=f"Between {FIRST_CAR} and {LATEST}, or leave it empty."
        )
    if cmd.distance_unit not in DISTANCE_UNITS:
        raise BadInput(f"the odometer counts in '{cmd.distance_unit}'", hint="Write mi or km.")
    from shopcli.worklists.sheets import facts

    facts(act.library, cmd.sheet, dict(cmd.facts))
    vehicle = Vehicle(
        customer_id=cmd.customer_id,
        registration=registration,
        make=required_line(cmd.make, name="make", limit=60),
        model=clean_line(cmd.model, name="model", limit=60),
        year=cmd.year,
        sheet=cmd.sheet,
        distance_unit=cmd.distance_unit,
        chassis_number=clean_line(cmd.chassis_number, name="chassis number", limit=40),
        engine_number=clean_line(cmd.engine_number, name="engine number", limit=40),
        facts=json.dumps(dict(cmd.facts), ensure_ascii=False, sort_keys=True),
    )
    return Change("vehicle", key_of(saved(session, vehicle)), said=(f"{registration} added.",))
