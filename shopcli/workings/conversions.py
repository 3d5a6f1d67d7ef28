"""Inch fractions: drawings, drills and spanners speak in sixteenths, micrometers in thou and millimetres.

One inch is 25.4 mm exactly, so everything here is done in whole fractions and rounded once, at the end.
"""

import re
import unicodedata
from fractions import Fraction

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed

MM_PER_INCH = Fraction(127, 5)
LONGEST_IN = 1000
DENOMINATORS = ("2", "4", "8", "16", "32", "64", "128")
_MIXED = re.compile(r"(?:([0-9]{1,4})(?:\s+|\s*-\s*))?([0-9]{1,4})\s*/\s*([0-9]{1,4})")
_DECIMAL = re.compile(r"[0-9]{0,4}(?:\.[0-9]{0,9})?")
_MARKS = ('"', "′′", "in", "inch", "inches")


def parse_inches(text: str) -> Fraction:
    """Read inches as people write them, exactly.

    Parameters
    ----------
    text : str
        "1-1/16", "1 1/16", "17/16", "1½", "0.4375"; an inch mark or "in" after it may stand.

    Returns
    -------
    Fraction
        Length, [in]

    Raises
    ------
    BadInput
        If it cannot be read, or a fraction is divided by zero.
    OutOfRange
        If it is longer than 1000 in.

    Notes
    -----
    Lengths only: no sign.

    Examples
    --------
    >>> parse_inches("1-1/16"), parse_inches('3½"'), parse_inches(".4375 in")
    (Fraction(17, 16), Fraction(7, 2), Fraction(7, 16))

    References
    ----------
    Definition.
    """
    spread = "".join(f" {ch}" if unicodedata.category(ch) == "No" else ch for ch in text.strip())
    tidy = unicodedata.normalize("NFKC", spread).replace("\u2044", "/").strip().lower()
    for mark in sorted(_MARKS, key=len, reverse=True):
        tidy = tidy.removesuffix(mark).rstrip()
    mixed = _MIXED.fullmatch(tidy)
    if mixed and int(mixed[3]):
        inches = Fraction(int(mixed[1] or 0)) + Fraction(int(mixed[2]), int(mixed[3]))
    elif tidy.isascii() and any(ch.isdigit() for ch in tidy) and _DECIMAL.fullmatch(tidy):
        inches = Fraction(tidy)
    else:
        raise BadInput(f"cannot read {text!r} as inches", hint="write it like 1-1/16, 7/16 or 0.4375")
    if inches > LONGEST_IN:
        raise OutOfRange("length", float(inches), f"up to {LONGEST_IN} in")
    return inches


def inches_to_mm(inches: Fraction) -> float:
    """Millimetres of an exact number of inches.

    Parameters
    ----------
    inches : Fraction
        Length, [in]

    Returns
    -------
    float
        Length, [mm]

    Examples
    --------
    >>> inches_to_mm(Fraction(7, 16))
    11.1125

    References
    ----------
    1 in = 25.4 mm exactly: NIST SP 811 (2008), Appendix B.8.
    """
    return float(inches * MM_PER_INCH)


def nearest_fraction(length_mm: float, denominator: int = 64) -> Fraction:
    """Nearest inch fraction of a length, halves upward.

    Parameters
    ----------
    length_mm : float
        Length, 0 to 25 400, [mm]
    denominator : int, optional
        Finest division: 2, 4, 8, 16, 32, 64 or 128, [-]

    Returns
    -------
    Fraction
        Length, [in]

    Raises
    ------
    OutOfRange
        If the length is negative or too long, or the division is none a rule carries.

    Notes
    -----
    The answer is never further off than half of one division.

    Examples
    --------
    >>> nearest_fraction(11.1), nearest_fraction(13.0, 16)
    (Fraction(7, 16), Fraction(1, 2))

    References
    ----------
    1 in = 25.4 mm exactly: NIST SP 811 (2008), Appendix B.8.
    """
    if str(denominator) not in DENOMINATORS:
        raise OutOfRange("denominator", denominator, "one of " + ", ".join(DENOMINATORS))
    longest_mm = float(LONGEST_IN * MM_PER_INCH)
    if not 0 <= length_mm <= longest_mm:
        raise OutOfRange("length", length_mm, f"0 to {longest_mm:g} mm")
    steps = Fraction(length_mm) / MM_PER_INCH * denominator
    return Fraction((2 * steps.numerator + steps.denominator) // (2 * steps.denominator), denominator)


def fraction_text(inches: Fraction) -> str:
    """Text of an inch fraction.

    Parameters
    ----------
    inches : Fraction
        Length, [in]

    Returns
    -------
    str
        "1-1/16 in".

    Examples
    --------
    >>> fraction_text(Fraction(17, 16)), fraction_text(Fraction(3, 8)), fraction_text(Fraction(2))
    ('1-1/16 in', '3/8 in', '2 in')
    """
    whole, rest = divmod(inches, 1)
    part = f"{rest.numerator}/{rest.denominator}"
    if not rest:
        return f"{whole} in"
    return f"{whole}-{part} in" if whole else f"{part} in"


def _run_inch_fraction(
    *, inches: str | None = None, length_mm: float | None = None, denominator: str = "64"
) -> Worked:
    if (inches is None) == (length_mm is None):
        raise BadInput("give either inches or millimetres", hint="one of the two, not both")
    if inches is not None:
        exact = parse_inches(inches)
        wanted_mm = inches_to_mm(exact)
        steps = [f"{inches.strip()} = {trimmed(float(exact), 6)} in"]
    else:
        wanted_mm = float(length_mm or 0.0)
        exact = Fraction(wanted_mm) / MM_PER_INCH
        steps = []
    steps.append(
        f"{trimmed(float(exact), 6)} in x 25.4 = {trimmed(wanted_mm, 4)} mm"
        if inches is not None
        else f"{trimmed(wanted_mm, 4)} mm / 25.4 = {trimmed(float(exact), 6)} in"
    )
    near = nearest_fraction(wanted_mm, int(denominator))
    off_mm = inches_to_mm(near) - wanted_mm
    steps.append(
        f"nearest 1/{denominator}: {fraction_text(near)} = {trimmed(inches_to_mm(near), 4)} mm, "
        f"off by {figure(off_mm, 3)} mm"
    )
    return Worked(
        results=(
            Result("mm", "millimetres", wanted_mm, "mm", f"{trimmed(wanted_mm, 4)} mm"),
            Result("inches", "decimal inches", float(exact), "in", f"{figure(float(exact), 4)} in"),
            Result("thou", "thou", float(exact * 1000), "thou", f"{trimmed(float(exact * 1000), 1)} thou"),
            Result("fraction", f"nearest 1/{denominator} in", fraction_text(near), "", fraction_text(near)),
            Result("off_mm", "fraction less length", off_mm, "mm", f"{figure(off_mm, 3)} mm"),
        ),
        steps=tuple(steps),
    )


INCH_FRACTION = Working(
    name="inch-fraction",
    title="Inch fraction, thou and millimetres",
    subject="conversions",
    inputs=(
        Input(
            "inches", "Inches as written", "text", required=False, help="1-1/16, 7/16, 0.4375; or leave empty"
        ),
        Input(
            "length_mm",
            "or the length",
            quantity="length",
            unit="mm",
            low=0.0,
            high=25_400.0,
            required=False,
            help="give this or the inches, not both",
        ),
        Input(
            "denominator",
            "Finest division of the rule",
            "choice",
            default="64",
            required=False,
            choices=DENOMINATORS,
        ),
    ),
    run=_run_inch_fraction,
    source="NIST SP 811 (2008), Appendix B.8: 1 in = 25.4 mm exactly",
    good_for="lengths from 0 to 1000 in; the nearest fraction is off by half a division at most",
    cautions=("A fraction near a metric size is not a spanner that fits it: see the spanner sums.",),
)

WORKINGS = (INCH_FRACTION,)
