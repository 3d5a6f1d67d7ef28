"""Packs of shims from stock, in whole micrometres so that sums are exact."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations_with_replacement

from shopcli.errors import BadInput
from shopcli.workings.say import within

FILLS = "a thicker pack takes float away"
SPREADS = "a thicker pack adds float"
MOST_PIECES = 4
MOST_SIZES = 30
MICROMETRES = 1000
_THICKEST_UM = 20_000


@dataclass(frozen=True, slots=True)
class Pack:
    """Pieces of a pack, thickest first, [um]."""

    pieces_um: tuple[int, ...]

    @property
    def total_um(self) -> int:
        """Thickness of the pack, [um]."""
        return sum(self.pieces_um)


def micrometres(name: str, value_mm: float, *, low_mm: float = 0.0, high_mm: float = 20.0) -> int:
    """Length as a whole number of micrometres.

    Parameters
    ----------
    name : str
        What it is, for the message.
    value_mm : float
        Length, [mm]
    low_mm, high_mm : float, optional
        Range, both ends included, [mm]

    Returns
    -------
    int
        Length, [um]

    Raises
    ------
    OutOfRange
        If it is outside the range.

    Examples
    --------
    >>> micrometres("float", 0.42)
    420
    """
    return round(within(name, value_mm, low_mm, high_mm, "mm") * MICROMETRES)


def wanted_pack_um(pack_um: int, measured_um: int, target_um: int, sense: str) -> int:
    """Pack that brings a measured end float to its target.

    Parameters
    ----------
    pack_um : int
        Pack fitted now, 0 to 20 000, [um]
    measured_um : int
        Float measured with it, 0 to 20 000, [um]
    target_um : int
        Wanted float, 0 to 20 000, [um]
    sense : str
        `FILLS` or `SPREADS`.

    Returns
    -------
    int
        Wanted pack, [um]

    Raises
    ------
    OutOfRange
        If a figure is out of range or the pack would have to be thinner than nothing.
    BadInput
        If the sense is neither of the two.

    Notes
    -----
    The measured float is a feeler's interval: as exact as the blades.

    Examples
    --------
    >>> wanted_pack_um(500, 420, 100, FILLS), wanted_pack_um(500, 420, 100, SPREADS)
    (820, 180)

    References
    ----------
    .. [1] Geometry.
    """
    for name, value in (("pack", pack_um), ("measured float", measured_um), ("wanted float", target_um)):
        within(name, value, 0, _THICKEST_UM, "um")
    if sense not in {FILLS, SPREADS}:
        raise BadInput(f"which way does the pack act? {sense!r} does not say", hint=f"{FILLS}, or {SPREADS}")
    change = measured_um - target_um
    wanted = pack_um + change if sense == FILLS else pack_um - change
    return int(
        within("wanted pack", wanted, 0, _THICKEST_UM, "um", hint="Look at the sense and the readings again.")
    )


def float_after_um(pack_um: int, new_pack_um: int, measured_um: int, sense: str) -> int:
    """Float to expect with another pack; negative means it binds.

    Parameters
    ----------
    pack_um, new_pack_um : int
        Pack now and then, [um]
    measured_um : int
        Float with the pack now, [um]
    sense : str
        `FILLS` or `SPREADS`.

    Returns
    -------
    int
        Float, [um]

    Examples
    --------
    >>> float_after_um(2400, 2520, 330, FILLS)
    210

    References
    ----------
    .. [1] Geometry.
    """
    change = new_pack_um - pack_um
    return measured_um - change if sense == FILLS else measured_um + change


def _packs(stock_um: tuple[int, ...], pieces: int, have: dict[int, int] | None) -> Iterator[Pack]:
    sizes = sorted(set(stock_um), reverse=True)
    for count in range(pieces + 1):
        for chosen in combinations_with_replacement(sizes, count):
            if have is None or all(chosen.count(size) <= have[size] for size in set(chosen)):
                yield Pack(chosen)


def best_pack(
    stock_um: tuple[int, ...],
    target_um: int,
    pieces: int,
    *,
    low_um: int | None = None,
    high_um: int | None = None,
    have: tuple[int, ...] = (),
) -> Pack:
    """Pack of few pieces nearest to a thickness.

    Parameters
    ----------
    stock_um : tuple of int
        Thicknesses in stock, at most 30 sizes, [um]
    target_um : int
        Wanted pack, [um]
    pieces : int
        Most pieces, 1 to 4, [-]
    low_um, high_um : int, optional
        Limits of the pack; when a pack lies within them, fewest pieces count before nearness, [um]
    have : tuple of int, optional
        How many of each thickness there are; empty means as many as needed, [-]

    Returns
    -------
    Pack
        Within the limits the fewest pieces, then the nearest, then the thinner pack. Where no pack meets the
        limits, the nearest.

    Raises
    ------
    OutOfRange
        If a thickness, the number of sizes or of pieces is out of range.
    BadInput
        If `have` does not match the stock.

    Notes
    -----
    Every combination is tried.

    Examples
    --------
    >>> best_pack((100, 150, 250, 500), 820, 3)
    Pack(pieces_um=(500, 150, 150))

    References
    ----------
    .. [1] Complete search.
    """
    within("sizes in stock", len(stock_um), 1, MOST_SIZES)
    within("pieces", pieces, 1, MOST_PIECES)
    for size in stock_um:
        within("shim", size, 1, _THICKEST_UM, "um")
    if have and len(have) != len(stock_um):
        raise BadInput(
            f"{len(have)} counts for {len(stock_um)} shims", hint="Give one count for each thickness."
        )
    counts: dict[int, int] | None = None
    if have:
        counts = {}
        for size, number in zip(stock_um, have, strict=True):
            counts[size] = counts.get(size, 0) + int(within("count", number, 0, 1000))
    low = target_um if low_um is None else low_um
    high = target_um if high_um is None else high_um

    def rank(pack: Pack) -> tuple[bool, int, int, int, int]:
        away, number = abs(pack.total_um - target_um), len(pack.pieces_um)
        inside = low <= pack.total_um <= high
        return (not inside, number if inside else away, away if inside else number, pack.total_um, number)

    return min(_packs(stock_um, pieces, counts), key=rank)


def stock_below(wanted: int, step: int) -> int:
    """Stock thickness at or just below a wanted one, for shims that come in steps.

    Parameters
    ----------
    wanted : int
        Wanted thickness, [um]
    step : int
        Step of the stock, above 0, [um]

    Returns
    -------
    int
        Stock thickness, [um]

    Raises
    ------
    OutOfRange
        If the step is not above zero or the thickness negative.

    Notes
    -----
    A shim that takes clearance away is chosen thinner, so that the error goes to the larger clearance.

    Examples
    --------
    >>> stock_below(2530, 20)
    2520

    References
    ----------
    .. [1] Published bucket-shim rule with 0.02 mm steps: an odd value goes 0.01 mm smaller.
    """
    within("step", step, 1, _THICKEST_UM, "um")
    return int(within("wanted", wanted, 0, _THICKEST_UM, "um")) // step * step
