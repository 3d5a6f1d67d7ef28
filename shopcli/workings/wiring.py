"""Cables of the car: how many volts are lost on the way, in 6 V and 12 V, and which size would do."""

from shopcli.errors import BadInput
from shopcli.workings.cable_sums import (
    CLASS_5,
    KM_PER_KFT,
    awg_mm2,
    awg_ohm_per_kft,
    class_5_ohm_per_km,
    copper_ohm_per_km,
    strand_mm2,
    volts_lost,
    warm_factor,
)
from shopcli.workings.frame import Input, Worked, Working
from shopcli.workings.say import figure, trimmed, within
from shopcli.workings.telling import result, say, words

MM2, AWG, STRANDS = "mm2", "AWG", "strands"
BODY, WIRE = "body", "wire"
DROP_PERCENT = 3.0  # common practice, no source
SYSTEMS = (6, 12, 24)
_FIRE = "Battery lead off before any wiring; a fuse next to the source, sized for the cable."


def ohm_per_km(kind: str, size: str) -> tuple[float, float, str]:
    """Resistance of a cable as it is spoken of.

    Parameters
    ----------
    kind : str
        ``mm2``, ``AWG`` or ``strands``.
    size : str
        ``2.5``, ``14`` or ``44/0.30``.

    Returns
    -------
    tuple
        Resistance at 20 degC [ohm/km], area [mm2] and where the figure comes from.

    Raises
    ------
    BadInput
        If the size cannot be read.
    NotFound
        If a nominal area is not in the table.
    OutOfRange
        If a gauge or a strand is out of range.

    Examples
    --------
    >>> ohm_per_km("mm2", "2.5")
    (7.98, 2.5, 'IEC 60228 class 5, the most it may have')

    References
    ----------
    .. [1] IEC 60228 class 5; NBS Handbook 100 (AWG); annealed copper 17.241 ohm mm2/km.
    """
    if kind == STRANDS:
        area, told = strand_mm2(size)
        return copper_ohm_per_km(area), area, f"{told}, annealed copper"
    try:
        number = float(size.strip().replace(",", "."))
    except ValueError:
        raise BadInput(f"cannot read the size {size[:20]!r}", hint="2.5 for mm2, 14 for AWG.") from None
    if kind == MM2:
        return class_5_ohm_per_km(number), number, "IEC 60228 class 5, the most it may have"
    if kind != AWG or not number.is_integer():
        raise BadInput(
            f"no cable {kind!r} {size[:20]!r}", hint=f"Kinds: {MM2}, {AWG} (whole numbers), {STRANDS}."
        )
    gauge = int(number)
    return awg_ohm_per_kft(gauge) / KM_PER_KFT, awg_mm2(gauge), "American gauge, solid copper"


def smallest_mm2(
    amps: float, length_m: float, ways: int, limit_v: float, factor: float = 1.0
) -> float | None:
    """Smallest cable of the table whose drop stays within a limit, None if none does.

    Examples
    --------
    >>> smallest_mm2(10, 4, 1, 0.36)
    2.5
    """
    for area, ohms in CLASS_5.items():
        if volts_lost(amps, length_m, ohms * factor, ways) <= limit_v:
            return area
    return None


def _way_out(better: float | None) -> str:
    return "no size of the table would do." if better is None else f"{trimmed(better)} mm² would do."


def _cable_drop(
    *,
    amps: float,
    length_m: float,
    kind: str,
    size: str,
    system_v: str = "12",
    back: str = BODY,
    temperature_c: float = 20.0,
    limit_percent: float = DROP_PERCENT,
) -> Worked:
    if system_v not in {str(v) for v in SYSTEMS}:
        raise BadInput(f"no system of {system_v!r} V", hint="6, 12 or 24.")
    if back not in {BODY, WIRE}:
        raise BadInput(f"the current comes back by {back!r}?", hint="By the body or by a wire.")
    within("limit_percent", limit_percent, 0.5, 20, "%")
    volts, ways = int(system_v), 1 if back == BODY else 2
    cold, area, source = ohm_per_km(kind, size)
    factor = warm_factor(temperature_c)
    lost = volts_lost(amps, length_m, cold * factor, ways)
    percent, limit_v = 100 * lost / volts, volts * limit_percent / 100
    within("drop", lost, 0, volts, "V", hint="More than there is: the cable is far too thin.")
    steps = (
        f"{size.strip()} {kind}: {say(area, 'mm2', 2)}, {figure(cold, 2)} ohm/km at 20 °C ({source}).",
        f"At {say(temperature_c, 'degC', 0)} x {figure(factor, 3)}.",
        f"{say(amps, 'A', 1)} x {say(length_m, 'm', 1)} x {ways} ({back} return): {say(lost, 'V', 2)} lost.",
        f"That is {figure(percent, 1)} % of {volts} V.",
        f"Limit {trimmed(limit_percent, 1)} %: {say(limit_v, 'V', 2)}.",
    )
    better = smallest_mm2(amps, length_m, ways, limit_v, factor)
    told = f"{say(lost, 'V', 2)} lost ({figure(percent, 1)} %)"
    verdict = f"{told}: good enough." if lost <= limit_v else f"{told}: too much; {_way_out(better)}"
    cautions = [
        _FIRE,
        "Cable only: every switch, fuse, joint and earth point takes its own. Measure under load.",
    ]
    if kind != MM2:
        cautions.append("Bright new copper: lay, tinning and age add a few per cent and more.")
    results = (
        result("drop_v", "Lost", lost, "V"),
        result("drop_percent", "Part of the system", percent, "%", decimals=1),
        result("left_v", "Left at the load", volts - lost, "V"),
        words("enough", "Smallest that does", "none" if better is None else f"{trimmed(better)} mm²"),
    )
    return Worked(results, steps, tuple(cautions), verdict)


_KIND = Input("kind", "Size given as", "choice", choices=(MM2, AWG, STRANDS))
_SYSTEM = Input(
    "system_v",
    "System voltage",
    "choice",
    default="12",
    required=False,
    choices=tuple(str(v) for v in SYSTEMS),
)
_LIMIT = Input("limit_percent", "Limit", "number", "percent", "%", 0.5, 20, DROP_PERCENT, required=False)

WORKINGS: tuple[Working, ...] = (
    Working(
        "cable-drop",
        "Volts lost in a cable",
        "wiring",
        (
            Input("amps", "Current", "number", "current", "A", 0, 1000),
            Input("length_m", "Length one way", "number", "length", "m", 0, 50),
            _KIND,
            Input("size", "Size", "text", help="2.5, 14 or 44/0.30"),
            _SYSTEM,
            Input("back", "Return", "choice", default=BODY, required=False, choices=(BODY, WIRE)),
            Input("temperature_c", "Cable", "number", "temperature", "degC", -40, 150, 20.0, required=False),
            _LIMIT,
        ),
        _cable_drop,
        "IEC 60228 class 5 (secondary tables), NBS Handbook 100, Ohm's law; 3 %: common practice, no source",
        "the copper of the cable; on 6 V three per cent is 0.18 V",
        (_FIRE,),
    ),
)
