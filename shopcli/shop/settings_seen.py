"""Looks whether the settings a shop wrote can be worked with: every value in its range, every name known."""

import re
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfoNotFoundError

from shopcli.errors import BadInput
from shopcli.shop.accounts import see_accounts
from shopcli.shop.hours import day_span

if TYPE_CHECKING:
    from shopcli.shop.settings import Settings

LONGEST_MONTHS = 120
MOST_PHOTO_MB = 200
MOST_HANDS = 8
LOCALE = r"[a-z]{2,3}([_-][A-Za-z0-9]{2,8})*"
COUNTRY = "[A-Z]{2}"
PREFIX = "[A-Za-z0-9/-]{0,12}"


def _see_locale(locale: str, name: str) -> None:
    # Whether there is one of that name is known to the writer of figures, which is loaded with the first paper.
    if not re.fullmatch(LOCALE, locale):
        raise BadInput(f"{name}: locale '{locale}' is none", hint="Write it like en_GB or de_DE.")


def _see_billing(settings: "Settings", name: str) -> None:
    if not re.fullmatch(COUNTRY, settings.country):
        raise BadInput(f"{name}: country '{settings.country}' is none", hint="Two capitals, like GB or DE.")
    if not 0 <= settings.terms_days <= 366:  # noqa: PLR2004 - a year
        raise BadInput(f"{name}: terms_days is 0 to 366")
    if settings.sundries_percent > 100 or settings.sundries_most_minor < 0:  # noqa: PLR2004 - percent
        raise BadInput(f"{name}: sundries_percent is 0 to 100, sundries_most_minor 0 (no limit) or more")
    if not 0 <= settings.cash_rounding_minor <= 100:  # noqa: PLR2004 - a whole unit of money
        raise BadInput(f"{name}: cash_rounding_minor is 0 (none) to 100")
    see_accounts(settings.accounts, settings.payment_methods, name)
    if not settings.payment_methods:
        raise BadInput(f"{name}: payment_methods names none")
    for prefix in (settings.invoice_prefix, settings.credit_prefix):
        if not re.fullmatch(PREFIX, prefix):
            raise BadInput(
                f"{name}: prefix '{prefix}' will not do", hint="Letters, figures, - and /, up to 12."
            )
    if settings.invoice_prefix == settings.credit_prefix:
        raise BadInput(f"{name}: invoice_prefix and credit_prefix must differ")


def _see_paid(settings: "Settings", name: str) -> None:
    if not 0 <= settings.unpaid_break_minutes <= 240 or settings.hour_cost_minor < 0:  # noqa: PLR2004 - four hours
        raise BadInput(f"{name}: unpaid_break_minutes is 0 to 240, hour_cost_minor 0 (not told) or more")


def _see_amounts(settings: "Settings", name: str) -> None:
    if not 1 <= settings.photo_most_mb <= MOST_PHOTO_MB:
        raise BadInput(f"{name}: photo_most_mb is 1 to {MOST_PHOTO_MB}")
    if not 1 <= settings.work_share <= 100 or not 1 <= settings.offer_days <= 366:  # noqa: PLR2004 - percent, a year
        raise BadInput(f"{name}: work_share is 1 to 100, offer_days 1 to 366")
    if settings.backup_hours < 0 or not 1 <= settings.backups_kept <= 1000:  # noqa: PLR2004 - years of days
        raise BadInput(f"{name}: backup_hours is 0 (never) or more, backups_kept 1 to 1000")


def seen(settings: "Settings", name: str) -> "Settings":
    """Return the settings as they are, once every value is seen to be one that can be worked with.

    Raises
    ------
    BadInput
        On the first that cannot, with the name of the file.
    """
    try:
        settings.tz()
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise BadInput(
            f"{name}: zone '{settings.zone}' is not known", hint="Write it like Europe/London."
        ) from error
    if settings.labour_unit_minutes < 1:
        raise BadInput(f"{name}: labour_unit_minutes must be 1 or more")
    if not 1 <= settings.hands <= MOST_HANDS:
        raise BadInput(f"{name}: hands is 1 to {MOST_HANDS}")
    if not 0 <= settings.lock_after_minutes <= 1440:  # noqa: PLR2004 - a day
        raise BadInput(f"{name}: lock_after_minutes is 0 (never) to 1440")
    if settings.labour_rounding not in {"up", "nearest"}:
        raise BadInput(f"{name}: labour_rounding is 'up' or 'nearest'")
    if settings.units not in {"metric", "imperial"}:
        raise BadInput(f"{name}: units is 'metric' or 'imperial'")
    if not 1 <= settings.tool_months <= LONGEST_MONTHS or settings.tool_cycles < 1:
        raise BadInput(f"{name}: tool_months is 1 to {LONGEST_MONTHS}, tool_cycles 1 or more")
    _see_locale(settings.locale, name)
    _see_amounts(settings, name)
    for text in settings.closed_days:
        day_span(text)
    _see_billing(settings, name)
    _see_paid(settings, name)
    settings.vat(settings.labour_vat)
    return settings
