"""The shop's settings: one TOML file, read once, handed down. Missing keys have plain defaults; wrong ones are named."""

import os
from decimal import Decimal, InvalidOperation
from zoneinfo import ZoneInfo

from shopcli.errors import BadInput, StoreTrouble
from shopcli.shop.accounts import Accounts, read_accounts
from shopcli.shop.hours import USUAL, Hours, read_hours
from shopcli.shop.taxwords import with_tax, without_tax
from shopcli.tuples import NamedTuple

TYPE_CHECKING = False
if TYPE_CHECKING:
    from os import PathLike


class VatRate(NamedTuple):
    """A rate by the shop's own name for it (``standard``, ``reduced``, ``zero``), with the EN 16931 category letter.

    `reason` says why nothing is charged, for the categories that want one (exempt, reverse charge, outside scope).
    """

    name: str
    percent: Decimal
    category: str = "S"
    reason: str = ""


class Staff(NamedTuple):
    """Somebody who works here, as the settings name them for a new shop."""

    name: str
    role: str = "mechanic"
    units: str = "metric"


class Settings(NamedTuple):
    """Everything a shop chooses for itself.

    `labour_minor` is the price of one hour in minor units; `labour_unit_minutes` the unit labour is rounded
    up to when it is priced, never before; `markup` pairs are (cost from, percent) bands on parts bought without a price;
    a tool is due for calibration after `tool_months` or `tool_cycles`; new photos are looked for in `photo_folder`;
    papers are put into `papers_folder`, else into the documents of whoever works here.
    Papers write figures and dates as in `locale` and carry the `logo`, a PNG or SVG file.
    The records are copied into `backup_folder` (else `backups` beside them) when the newest copy is older than
    `backup_hours` (0: never by itself); `backups_kept` of the copies stay.
    `work_share` is how many in 100 of the open minutes go into cars (75: common practice, no source), `holidays` the
    country or part of one by ISO 3166 whose public holidays are kept; an offer holds for `offer_days`.
    Who has a PIN is asked for it again after `lock_after_minutes` without a key (0: never).
    Of the shop's hours `unpaid_break_minutes` a day are not paid; an hour paid costs the shop `hour_cost_minor` with all that
    belongs to it, 0 while nobody said so.
    """

    shop_name: str = "The shop"
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    vat_number: str = ""
    currency: str = "GBP"
    vat_rates: tuple[VatRate, ...] = (VatRate("standard", Decimal(20)), VatRate("zero", Decimal(0), "Z"))
    labour_vat: str = "standard"
    labour_minor: int = 6000
    labour_unit_minutes: int = 6
    labour_rounding: str = "up"
    markup: tuple[tuple[int, Decimal], ...] = ((0, Decimal(30)),)
    units: str = "metric"
    zone: str = "Europe/London"
    staff: tuple[Staff, ...] = ()
    templates_folder: str = ""
    theme: str = ""
    ascii_only: bool = False
    keys: tuple[tuple[str, str], ...] = ()
    hours: Hours = USUAL
    closing_grace_minutes: int = 15
    lock_after_minutes: int = 15
    hands: int = 1
    tool_months: int = 12
    tool_cycles: int = 5000
    photo_folder: str = ""
    photos_kept: str = ""
    papers_folder: str = ""
    photo_most_mb: int = 20
    backup_folder: str = ""
    backup_hours: int = 24
    backups_kept: int = 14
    locale: str = "en_GB"
    logo: str = ""
    holidays: str = "none"
    closed_days: tuple[str, ...] = ()
    work_share: int = 75
    offer_days: int = 30
    unpaid_break_minutes: int = 0
    hour_cost_minor: int = 0
    city: str = ""
    post_code: str = ""
    country: str = "GB"
    tax_number: str = ""
    tax_word: str = "VAT"
    iban: str = ""
    bic: str = ""
    account_name: str = ""
    terms: str = ""
    terms_days: int = 14
    invoice_prefix: str = "INV-"
    credit_prefix: str = "CN-"
    sundries_percent: Decimal = Decimal(0)
    sundries_most_minor: int = 0
    cash_rounding_minor: int = 0
    payment_methods: tuple[str, ...] = ("cash", "card", "transfer", "cheque")
    accounts: Accounts = ()

    def tz(self) -> ZoneInfo:
        """Return the shop's time zone."""
        return ZoneInfo(self.zone)

    @property
    def with_tax(self) -> str:
        """How a sum is said to have the tax in it, by the shop's own word for it."""
        return with_tax(self.tax_word)

    @property
    def without_tax(self) -> str:
        """How a sum is said not to have the tax in it."""
        return without_tax(self.tax_word)

    def vat(self, name: str) -> VatRate:
        """Return the rate called `name`.

        Raises
        ------
        BadInput
            When the settings have no such rate.
        """
        for rate in self.vat_rates:
            if rate.name == name:
                return rate
        names = ", ".join(r.name for r in self.vat_rates)
        raise BadInput(f"no VAT rate is called '{name}'", hint=f"The settings have: {names}.")


def _decimal(value: object, key: str) -> Decimal:
    try:
        number = Decimal(str(value))
    except InvalidOperation as error:
        raise BadInput(f"settings: {key} is '{value}'; a number is wanted") from error
    if not number.is_finite() or number < 0:
        raise BadInput(f"settings: {key} is {number}; it cannot be below zero")
    return number


def _special(key: str, value: object) -> object:
    match key:
        case "vat_rates":
            return tuple(
                VatRate(
                    str(r["name"]),
                    _decimal(r["percent"], "vat_rates.percent"),
                    str(r.get("category", "S")),
                    str(r.get("reason", "")),
                )
                for r in _tables(key, value)
            )
        case "staff":
            return tuple(
                Staff(str(s["name"]), str(s.get("role", "mechanic")), str(s.get("units", "metric")))
                for s in _tables(key, value)
            )
        case "markup":
            return tuple(
                (int(_decimal(b["from"], "markup.from") * 100), _decimal(b["percent"], "markup.percent"))
                for b in _tables(key, value)
            )
        case "keys":
            if not isinstance(value, dict) or not all(isinstance(v, str) for v in value.values()):
                raise BadInput(
                    "settings: keys wants a table of acts and their keys",
                    hint='Write [keys] and below it: "bench.clock" = "c".',
                )
            return tuple(value.items())
        case "hours":
            return read_hours(value)
        case "accounts":
            return read_accounts(value)
        case "sundries_percent":
            return _decimal(value, key)
        case "address" | "closed_days" | "payment_methods":
            return tuple(str(line) for line in value) if isinstance(value, list) else (str(value),)
        case _:
            return value


def _tables(key: str, value: object) -> list[dict[str, object]]:
    if not isinstance(value, list) or not all(isinstance(v, dict) for v in value):
        raise BadInput(f"settings: {key} wants tables", hint=f"Write [[{key}]] with its keys below.")
    return value


def read_settings(text: str, *, name: str = "settings") -> Settings:
    """Return the settings written in a TOML text.

    Raises
    ------
    BadInput
        On broken TOML, an unknown key, a value of the wrong kind or an unknown time zone.
    """
    import tomllib  # a shop that starts with the defaults waits for no reader of files

    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(
            f"{name}: {error}", hint="Mend the file or move it away to start with defaults."
        ) from error
    known = Settings._field_defaults
    chosen: dict[str, object] = {}
    for key, value in table.items():
        if key not in known:
            raise BadInput(f"{name}: unknown key '{key}'", hint="Known: " + ", ".join(sorted(known)) + ".")
        default = known[key]
        if isinstance(default, str | int) and (type(value) is not type(default)):
            kinds = {bool: "true or false", int: "whole number", str: "text"}
            kind = kinds[type(default)]
            raise BadInput(f"{name}: {key} is {value!r}; a {kind} is wanted")
        try:
            chosen[key] = _special(key, value)
        except KeyError as error:
            raise BadInput(f"{name}: {key} lacks {error}") from error
    settings = Settings(**chosen)  # type: ignore[arg-type]
    from shopcli.shop.settings_seen import seen  # only what was written is looked at

    return seen(settings, name)


def load_settings(path: "str | PathLike[str]") -> Settings:
    """Return the settings in a file, defaults when there is none.

    Raises
    ------
    BadInput
        When the file does not hold settings.
    StoreTrouble
        When it cannot be read.
    """
    try:
        with open(path, encoding="utf-8") as file:
            text = file.read()
    except FileNotFoundError:
        return Settings()
    except (OSError, UnicodeDecodeError) as error:
        raise StoreTrouble(f"cannot read the settings {path}: {error}") from error
    return read_settings(text, name=os.path.basename(path))
