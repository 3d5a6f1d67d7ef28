"""What the form of a new card offers and tells: customers, vehicles, sheets, jobs, and a vehicle's earlier visits."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from shopcli.errors import ShopError
from shopcli.present import hours, money, odometer
from shopcli.screens.desk.dates import in_words, read_date
from shopcli.screens.desk.draft import read_how, read_unit
from shopcli.screens.dialogs import Choice
from shopcli.shop.amounts import from_minor
from shopcli.shop.settings import Settings
from shopcli.shop.typed_figures import read_odometer, read_sum, read_year
from shopcli.shop.views import CustomerView, VehicleView
from shopcli.store.reads import desk, offers
from shopcli.store.reads.bench import card
from shopcli.store.reads.found import find_customers, words_of
from shopcli.store.shop import Shop
from shopcli.worklists.library import Library

NEW, NONE = "new", "none"
FEW = 8
NAMED = 3  # letters that name another's vehicle


@dataclass(frozen=True, slots=True)
class Jobs:
    """The jobs that fit, and how long the chosen ones take together, [min]."""

    offers: tuple[offers.Offer, ...]
    minutes: int
    trouble: str = ""


def customers(shop: Shop, text: str) -> tuple[CustomerView, ...]:
    """Return the customers a text may mean."""
    return find_customers(shop, text, limit=FEW) if text.strip() else ()


def vehicles(shop: Shop, text: str, customer_id: int | None) -> tuple[VehicleView, ...]:
    """Return the customer's vehicles, and others the text names: a car may have changed hands."""
    own = desk.find_vehicles(shop, text, customer_id, limit=FEW) if customer_id is not None else ()
    others = desk.find_vehicles(shop, text, limit=FEW) if len(text.strip()) >= NAMED else ()
    return own + tuple(v for v in others if v.id not in {o.id for o in own})


def named_by(found: Sequence[VehicleView], text: str) -> int | None:
    """Return the first vehicle whose registration holds the text; None where the text names none."""
    named = "".join(words_of(text))
    return next((v.id for v in found if named and named in "".join(words_of(v.registration))), None)


def jobs(shop: Shop, sheet: str, vehicle_id: int | None, chosen: Sequence[str]) -> Jobs:
    """Return the jobs for a vehicle with the time of the chosen ones."""
    known = offers.knowledge(shop, sheet, vehicle_id)
    fitting = known.offers()
    names = [name for name in chosen if any(o.name == name and not o.trouble for o in fitting)]
    try:
        return Jobs(fitting, known.minutes(names) if names else 0)
    except ShopError as error:
        return Jobs(fitting, 0, error.message)


def of_card(shop: Shop, card_id: int) -> str:
    """Return the number of a card."""
    return card(shop, card_id).number


# Choices ----------------------------------------------------------------------------------------------


def customer_choices(found: Iterable[CustomerView], text: str) -> list[Choice]:
    """Return who it may be, and last the new one."""
    known = [Choice(str(c.id), c.name, "  ".join((c.phone, *c.vehicles)).strip()) for c in found]
    return [*known, Choice(NEW, f"new customer: {text}")] if text else known


def vehicle_choices(found: Iterable[VehicleView], text: str, customer_id: int | None) -> list[Choice]:
    """Return which vehicle it may be, those of others marked, and last the new one."""
    known = [
        Choice(
            str(v.id),
            f"{v.registration}, {car(v)}",
            "" if v.customer_id == customer_id else f"of {v.customer}",
        )
        for v in found
    ]
    if text and not any(v.registration == " ".join(text.upper().split()) for v in found):
        known.append(Choice(NEW, f"new vehicle: {text.upper()}"))
    return known


def sheet_choices(library: Library, text: str) -> list[Choice]:
    """Return the spec sheets that hold every word typed, and none at all."""
    words = text.casefold().split()
    fitting = [
        Choice(f"sheet:{name}", sheet.title, name)
        for name, sheet in sorted(library.sheets.items(), key=lambda item: item[1].title.casefold())
        if all(w in f"{name} {sheet.title}".casefold() for w in words)
    ]
    # With nothing typed Enter must not take the first sheet there happens to be.
    none = Choice(NONE, "no sheet: numbers are entered at the bench")
    return [*fitting, none] if words else [none, *fitting]


def job_choices(found: Sequence[offers.Offer], chosen: Sequence[str], text: str) -> list[Choice]:
    """Return the jobs that hold every word typed, chosen ones marked."""
    words = text.casefold().split()
    return [
        Choice(o.name, f"{'✓' if o.name in chosen else '◦'} {o.title}", _job_note(o, o.name in chosen))
        for o in found
        if all(w in f"{o.title} {o.system} {o.name}".casefold() for w in words)
    ]


def _job_note(offer: offers.Offer, chosen: bool) -> str:
    if offer.trouble:
        return f"not possible: {offer.trouble}"
    return f"{hours(offer.minutes * 60)}{', chosen' if chosen else ''}"


# Words ------------------------------------------------------------------------------------------------


def car(vehicle: VehicleView) -> str:
    """Return make, model and year."""
    return desk.vehicle_name(vehicle.make, vehicle.model, vehicle.year)


def chosen_jobs(found: Jobs, chosen: Sequence[str]) -> str:
    """Return what was chosen and how long it takes."""
    if not chosen:
        return "none chosen: the card is for a look"
    if found.trouble:
        return found.trouble
    count = f"{len(chosen)} {'job' if len(chosen) == 1 else 'jobs'}"
    return f"{count}, {hours(found.minutes * 60)} expected"


def say_odometer(text: str, unit: str, last: int | None) -> str:
    """Say an odometer back, and when it runs backwards."""
    reading = read_odometer(text)
    if reading is None:
        return "" if last is None else f"last {odometer(last, unit)}"
    if last is not None and reading < last:
        return f"! {odometer(reading, unit)}; it was {odometer(last, unit)}"
    return odometer(reading, unit)


def odometer_typed(text: str) -> int | None:
    """Return what the odometer shows, or None while it cannot be read."""
    try:
        return read_odometer(text)
    except ShopError:
        return None


def say_sum(text: str, settings: Settings) -> str:
    """Say a sum back."""
    minor = read_sum(text, "authority")
    if minor is None:
        return "no limit written"
    return f"up to {money(from_minor(minor), settings.currency)} {settings.with_tax}"


def say_date(text: str, today: date) -> str:
    """Say a date back in full."""
    meant = read_date(text, today)
    return in_words(meant, today) if meant else "like 4.12. or fri or +3"


def say_year(text: str) -> str:
    """Say a year back, which is to say nothing, or refuse it."""
    read_year(text)
    return ""


def say_unit(text: str) -> str:
    """Say what the odometer counts in."""
    return {"mi": "miles", "km": "kilometres"}[read_unit(text)]


def say_how(text: str) -> str:
    """Say how an authority came."""
    return read_how(text)
