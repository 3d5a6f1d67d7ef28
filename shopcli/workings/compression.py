"""Compression test: the readings of all cylinders against each other, by the rule the shop chooses."""

from collections.abc import Sequence

from shopcli.workings.bars import bar_picture
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import PLAIN_CHARACTERS, figure, listed
from shopcli.workings.spread import (
    DIFFERENCE,
    MOST_PSI,
    PSI_IN,
    RULES,
    checked_readings,
    judge_spread,
    low_cylinders,
    lowest_percent,
    pressure_text,
)

CRANKING = "Ignition and fuel made safe before the engine is cranked; stand clear of fan and open plug holes."


def compression_picture(
    readings_psi: Sequence[float], threshold_psi: float, unit: str = "psi", *, ascii_only: bool = False
) -> str:
    """Bars of a compression test with a line at the limit.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, [psi]
    threshold_psi : float
        Limit by the rule chosen, [psi]
    unit : {"psi", "bar", "kPa", "kgf/cm2"}, optional
        Unit of the figures.
    ascii_only : bool, optional
        Draw with plain keyboard characters.

    Returns
    -------
    str
        Lines of at most 80 columns.

    Examples
    --------
    >>> print(compression_picture([150.0, 112.0], 112.5, ascii_only=True))
    No.  1 |##############################:#########| 150 psi  100 %
    No.  2 |##############################:.........| 112 psi   75 % low
    : limit by this rule 113 psi
    """
    top = max(readings_psi)
    low = low_cylinders(readings_psi, threshold_psi)
    texts = [
        f"{pressure_text(psi, unit)} {figure(100.0 * psi / top, 0):>4} %{' low' if number in low else ''}"
        for number, psi in enumerate(readings_psi, start=1)
    ]
    return bar_picture(
        readings_psi,
        texts,
        full=top,
        mark=threshold_psi,
        mark_text=f"limit by this rule {pressure_text(threshold_psi, unit)}",
        ascii_only=ascii_only,
    )


def _verdict(low: tuple[int, ...], rule: str, weak: tuple[int, ...], minimum: str) -> str:
    standing = f"No. {listed(low)} low" if low else "passes"
    verdict = f"{standing} by the rule: {rule}"
    if minimum:
        verdict += f"; No. {listed(weak)} below {minimum}" if weak else f"; none below {minimum}"
    return verdict


def _run_compression_spread(
    *,
    readings_psi: tuple[float, ...],
    rule: str,
    allowed_percent: float | None = None,
    allowed_psi: float | None = None,
    minimum_psi: float | None = None,
    shown_in: str = "psi",
    ascii_only: bool = False,
) -> Worked:
    readings = checked_readings(readings_psi)
    judged = judge_spread(
        readings, rule, allowed_percent=allowed_percent, allowed_psi=allowed_psi, unit=shown_in
    )
    low = low_cylinders(readings, judged.threshold_psi)
    weak = low_cylinders(readings, minimum_psi) if minimum_psi is not None else ()
    top, bottom, average = max(readings), min(readings), sum(readings) / len(readings)
    share = lowest_percent(readings)
    say = {
        name: pressure_text(psi, shown_in)
        for name, psi in (("top", top), ("bottom", bottom), ("avg", average))
    }
    spread, limit = pressure_text(top - bottom, shown_in), pressure_text(judged.threshold_psi, shown_in)
    minimum = pressure_text(minimum_psi, shown_in) if minimum_psi is not None else ""
    cautions = ["Throttle wide open, all plugs out, the same number of strokes each, battery strong."]
    if minimum_psi is None:
        cautions.append("Even readings may all be low: hold them against the handbook's figure as well.")
    return Worked(
        results=(
            Result("passes", "passes", not low and not weak, "", "no" if low or weak else "yes"),
            Result("low", "low by the rule", low, "", listed(low)),
            Result("weak", "below the least", weak, "", listed(weak)),
            Result("highest_psi", "highest", top, "psi", say["top"]),
            Result("lowest_psi", "lowest", bottom, "psi", say["bottom"]),
            Result("average_psi", "average", average, "psi", say["avg"]),
            Result("lowest_pct", "lowest of highest", share, "%", f"{figure(share, 0)} %"),
            Result("spread_psi", "highest less lowest", top - bottom, "psi", spread),
            Result("threshold_psi", "limit by this rule", judged.threshold_psi, "psi", limit),
        ),
        steps=(
            f"highest {say['top']}, lowest {say['bottom']} ({figure(share, 1)} %), average {say['avg']}",
            f"rule: {judged.rule}: no cylinder below {limit}",
        ),
        cautions=tuple(cautions),
        verdict=_verdict(low, judged.rule, weak, minimum),
        picture=compression_picture(readings, judged.threshold_psi, shown_in, ascii_only=ascii_only),
    )


def _pressure(name: str, label: str, help_text: str) -> Input:
    return Input(
        name,
        label,
        quantity="pressure",
        unit="psi",
        low=0.0,
        high=MOST_PSI,
        required=False,
        help=help_text,
    )


COMPRESSION_SPREAD = Working(
    name="compression-spread",
    title="Compressions against each other",
    subject="compression",
    inputs=(
        Input(
            "readings_psi",
            "Reading of each cylinder",
            "numbers",
            quantity="pressure",
            unit="psi",
            low=0.0,
            high=MOST_PSI,
        ),
        Input("rule", "Rule", "choice", choices=RULES, help="printed rules conflict: take the handbook's"),
        Input(
            "allowed_percent",
            "Least of the highest, or most below the average",
            quantity="percent",
            unit="%",
            low=0.0,
            high=100.0,
            required=False,
            help="for the first two rules",
        ),
        _pressure("allowed_psi", "Most between highest and lowest", f"for the rule {DIFFERENCE!r}"),
        _pressure("minimum_psi", "Least by the handbook", "judged as well when given"),
        Input("shown_in", "Say it in", "choice", default="psi", required=False, choices=tuple(PSI_IN)),
        PLAIN_CHARACTERS,
    ),
    run=_run_compression_spread,
    source=(
        "75 % of highest: TM 5-4210-230-14&P-1; within 10 lb: TM 10-3930-618-20; within 1.0 kgf/cm2: "
        "TM 10-3930-653-14&P; 20 % below average: TM 1-1500-204-23-1"
    ),
    good_for="2 to 12 cylinders read with one gauge in one session",
    cautions=(CRANKING,),
)

WORKINGS = (COMPRESSION_SPREAD,)
