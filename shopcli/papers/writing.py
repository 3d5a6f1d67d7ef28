"""How figures and dates are written on papers that leave the shop: in the shop's own locale, not the machine's.

The words of a paper are English; what stands for a figure or a date is what the people around the shop are
used to. Amounts are rounded half-up before they are written, because the writer of figures would round
half-even. It is loaded with the first paper.
"""

from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_HALF_UP, Context, Decimal
from functools import cache
from typing import TYPE_CHECKING, Protocol

from shopcli.errors import BadInput

if TYPE_CHECKING:
    from babel import Locale
    from babel.numbers import NumberPattern

USUAL_LOCALE = "en_GB"
CENT = Decimal("0.01")
_WIDE = Context(prec=60, rounding=ROUND_HALF_UP)
_BLANKS = dict.fromkeys(map(ord, "\u00a0\u202f\u2009"), " ") | {ord("\u2212"): "-"}


class Rated(Protocol):
    """Anything with a VAT rate: a line, an allowance, a group."""

    @property
    def percent(self) -> Decimal: ...  # noqa: D102
    @property
    def category(self) -> str: ...  # noqa: D102


@cache
def locale_named(name: str) -> "Locale":
    """Return a locale by its name, ``en_GB`` or ``en-GB``.

    Raises
    ------
    BadInput
        If there is no such locale.
    """
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(name.replace("-", "_"))
    except (UnknownLocaleError, ValueError, TypeError) as error:
        raise BadInput(f"no locale is called '{name[:30]}'", hint="Write it like en_GB or de_DE.") from error


@cache
def _pattern(locale: "Locale", decimals: int) -> "NumberPattern":
    """The locale's way with figures, with just so many decimals."""
    from babel.numbers import parse_pattern

    whole = locale.decimal_formats[None].pattern.split(";")[0].split(".")[0]
    return parse_pattern(whole + ("." + "0" * decimals if decimals else ""))


def _decimals(d: Decimal) -> int:
    exponent = d.normalize(_WIDE).as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


@dataclass(frozen=True, slots=True)
class Writing:
    """Writes values for one paper. `plain` asks for ASCII: a code for the currency, ordinary blanks."""

    currency: str = "GBP"
    locale: str = USUAL_LOCALE
    plain: bool = False
    _locale: "Locale" = field(init=False, repr=False, compare=False)
    # A paper says the same rate and the same nought on every line: each figure is written out once.
    _figures: dict[tuple[Decimal, int], str] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    def __post_init__(self) -> None:
        object.__setattr__(self, "_locale", locale_named(self.locale))

    @property
    def language(self) -> str:
        """The locale as a page names it, ``en-GB``."""
        return str(self._locale).replace("_", "-")

    @property
    def point(self) -> str:
        """The sign between units and decimals."""
        from babel.numbers import get_decimal_symbol

        return get_decimal_symbol(self._locale)

    def _figure(self, d: Decimal, decimals: int) -> str:
        said = self._figures.get((d, decimals))
        if said is None:
            rounded = d.quantize(Decimal(1).scaleb(-decimals), context=_WIDE)
            # A rounded nothing has no sign.
            value = rounded.copy_abs() if rounded.is_zero() else rounded
            pattern = _pattern(self._locale, decimals)
            said = self._said(pattern.apply(value, self._locale, decimal_quantization=False))
            self._figures[d, decimals] = said
        return said

    def _said(self, text: str) -> str:
        return text.translate(_BLANKS) if self.plain else text

    def amount(self, d: Decimal) -> str:
        """Write an amount without its currency.

        Examples
        --------
        >>> Writing().amount(Decimal("1234.5")), Writing(locale="de_DE").amount(Decimal("-0.125"))
        ('1,234.50', '-0,13')
        """
        return self._figure(d, 2)

    def money(self, d: Decimal) -> str:
        """Write an amount with its currency.

        Examples
        --------
        >>> Writing().money(Decimal("1234.5")), Writing(plain=True).money(Decimal("-1234.5"))
        ('£1,234.50', 'GBP -1,234.50')
        """
        if self.plain or not (len(self.currency) == 3 and self.currency.isascii()):  # noqa: PLR2004
            return f"{self.currency} {self.amount(d)}"
        from babel.numbers import format_currency

        cents = d.quantize(CENT, context=_WIDE)
        value = cents.copy_abs() if cents.is_zero() else cents
        return format_currency(value, self.currency, locale=self._locale, currency_digits=False)

    def price(self, d: Decimal) -> str:
        """Write a price with all the decimals it has, two at least.

        Examples
        --------
        >>> Writing().price(Decimal("0.1212")), Writing().price(Decimal("7.5"))
        ('0.1212', '7.50')
        """
        return self._figure(d, max(2, _decimals(d)))

    def qty(self, d: Decimal) -> str:
        """Write a quantity with no more decimals than it has.

        Examples
        --------
        >>> Writing().qty(Decimal("4.000")), Writing(locale="fr_FR", plain=True).qty(Decimal("1234.5"))
        ('4', '1 234,5')
        """
        return self._figure(d, _decimals(d))

    def percent(self, d: Decimal) -> str:
        """Write a rate.

        Examples
        --------
        >>> Writing().percent(Decimal("20.00")), Writing(locale="de_DE").percent(Decimal("5.5"))
        ('20 %', '5,5 %')
        """
        return f"{self.qty(d)} %"

    def rate(self, item: Rated) -> str:
        """Write a VAT rate, with the letter of its category where that is not the usual one."""
        return self.percent(item.percent) + ("" if item.category == "S" else f" {item.category}")

    def day(self, d: date | None) -> str:
        """Write a date where there is little room; nothing for none.

        Examples
        --------
        >>> Writing().day(date(2026, 11, 27)), Writing(locale="de_DE").day(date(2026, 11, 27))
        ('27 Nov 2026', '27.11.2026')
        """
        return self._date(d, "medium")

    def day_long(self, d: date | None) -> str:
        """Write a date in full; nothing for none.

        Examples
        --------
        >>> Writing().day_long(date(2026, 11, 27)), Writing().day_long(None)
        ('27 November 2026', '')
        """
        return self._date(d, "long")

    def _date(self, d: date | None, length: str) -> str:
        from babel.dates import format_date

        if d is None:
            return ""
        said = self._said(format_date(d, length, locale=self._locale))
        # Where the name of a month is not ASCII either, a plain page has the date of ISO 8601.
        return d.isoformat() if self.plain and not said.isascii() else said
