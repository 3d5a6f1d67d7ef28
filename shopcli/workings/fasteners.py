"""Bolts: what a size and grade bear, the torque that goes with it, and how far it stretches.

Said loudly each time: the handbook's number comes first. A torque worked out here is for a bolt about
which no handbook says anything.
"""

from shopcli.errors import BadInput
from shopcli.workings import bolt_stretch
from shopcli.workings.bolt_strength import (
    ALUMINIUM_REDUCTION,
    CLAMP_PART,
    K_DRY,
    METRIC_PROOF_MPA,
    REDUCTIONS,
    proof_load_n,
    proof_stress_mpa,
    proof_stress_psi,
    reduced,
    torque_for_clamp,
)
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, within
from shopcli.workings.telling import MM_PER_INCH, NEWTON_PER_LBF, NM_PER_LBF_FT, result, say
from shopcli.workings.thread_table import Thread, find

GRADES = (*METRIC_PROOF_MPA, "grade 2", "grade 5", "grade 8")
HANDBOOK_FIRST = (
    "THE HANDBOOK'S TORQUE COMES FIRST. This is worked out from size and grade and knows nothing of the part "
    "it holds."
)
_UNLIKE = 0.25
_METALS = ("steel or iron", "aluminium")
_PSI_TO_MPA = NEWTON_PER_LBF / MM_PER_INCH**2


def proof_mpa(thread: Thread, grade: str) -> float:
    """Proof stress of a grade on a thread; classes belong to metric, grades to Unified threads.

    Parameters
    ----------
    thread : Thread
        The thread.
    grade : str
        ``8.8`` or ``grade 5``.

    Returns
    -------
    float
        Proof stress, [MPa]

    Raises
    ------
    BadInput
        If thread and grade do not belong together, or the thread is Whitworth or BA.
    OutOfRange
        If the grade does not cover the size.

    Examples
    --------
    >>> round(proof_mpa(find("3/8 UNC"), "grade 5"), 1)
    586.1

    References
    ----------
    .. [1] EN ISO 898-1 and SAE J429 (secondary tables).
    """
    if thread.family == "metric" and grade in METRIC_PROOF_MPA:
        return proof_stress_mpa(grade, thread.major_mm)
    if thread.family == "Unified" and grade.startswith("grade "):
        return (
            proof_stress_psi(int(grade.removeprefix("grade ")), thread.major_mm / MM_PER_INCH) * _PSI_TO_MPA
        )
    if thread.family in {"metric", "Unified"}:
        raise BadInput(
            f"{grade} does not belong to a {thread.family} thread",
            hint="Classes 4.6 to 12.9 are for metric bolts, grades 2, 5 and 8 for UNC and UNF.",
        )
    raise BadInput(
        f"no dependable proof stress for {thread.series}",
        hint="The strength letters of the British standards could not be checked: go by the handbook.",
    )


def _both_loads(load_n: float) -> str:
    return f"{say(load_n / 1000, 'kN', 1)} ({figure(load_n / NEWTON_PER_LBF, 0)} lbf)"


def both_torques(torque_nm: float) -> str:
    """Torque in both units.

    Examples
    --------
    >>> both_torques(50.0)
    '50.0 N·m (36.9 lbf·ft)'
    """
    return f"{say(torque_nm, 'Nm', 1)} ({say(torque_nm / NM_PER_LBF_FT, 'lbf.ft', 1)})"


def _proof_load(thread: str, grade: str) -> Worked:
    found = find(thread)
    stress = proof_mpa(found, grade)
    load = proof_load_n(found.stress_area_mm2, stress)
    steps = (
        f"{found.name}: stress area {say(found.stress_area_mm2, 'mm2', 1)} by {found.area_rule}.",
        f"{grade}: proof stress {figure(stress, 0)} MPa ({figure(stress / _PSI_TO_MPA / 1000, 0)} ksi).",
        f"Proof load {figure(found.stress_area_mm2, 1)} x {figure(stress, 0)} = {_both_loads(load)}.",
    )
    results = (
        Result("load_n", "Proof load", load, "N", _both_loads(load)),
        result("stress_mpa", "Proof stress", stress, "MPa", decimals=0),
    )
    cautions = ("A bolt without marks on its head is of unknown strength: treat it as the weakest.",)
    return Worked(results, steps, cautions)


def _reduction(finish: str, into: str, k: float | None) -> tuple[float, str]:
    """Return the largest single reduction that applies and the reason."""
    if finish not in REDUCTIONS or into not in _METALS:
        raise BadInput(
            f"threads {finish!r} into {into!r}",
            hint="Threads: " + ", ".join(REDUCTIONS) + ". Into: " + ", ".join(_METALS) + ".",
        )
    oil = 0.0 if k is not None else REDUCTIONS[finish]
    metal = ALUMINIUM_REDUCTION if into == "aluminium" else 0.0
    if not oil and not metal:
        return 0.0, ""
    return (metal, "into aluminium") if metal <= oil else (oil, finish)


def _bolt_torque(
    *,
    thread: str,
    grade: str,
    finish: str = "clean and dry",
    into: str = "steel or iron",
    k: float | None = None,
    part_percent: float = 100 * CLAMP_PART,
    handbook_nm: float | None = None,
) -> Worked:
    found = find(thread)
    within("part_percent", part_percent, 20, 75, "%", hint="Above 75 % a bolt that comes off again is spent.")
    factor = K_DRY if k is None else k
    load = proof_load_n(found.stress_area_mm2, proof_mpa(found, grade))
    clamp = load * part_percent / 100
    dry_nm = torque_for_clamp(factor, found.major_mm, clamp) / 1000
    percent, why = _reduction(finish, into, k)
    torque = reduced(dry_nm, percent)
    steps = [
        f"Proof load of {found.name} {grade}: {_both_loads(load)}.",
        f"Clamp {figure(part_percent, 0)} % of it: {_both_loads(clamp)}.",
        f"T = K D F = {figure(factor, 2)} x {say(found.major_mm, 'mm', 2)} x {figure(clamp, 0)} N.",
        f"That is {both_torques(dry_nm)}.",
    ]
    if k is not None:
        steps.append("K was given: it stands for the state of the threads, no reduction for it on top.")
    if percent:
        steps.append(f"{why}: {figure(percent, 0)} % -> {both_torques(torque)}.")
    verdict = f"{both_torques(torque)}, only where no handbook speaks."
    if handbook_nm is not None:
        apart = torque / within("handbook_nm", handbook_nm, 0.1, 2000, "Nm") - 1
        steps.append(f"Handbook {both_torques(handbook_nm)}; this sum is {figure(100 * apart, 0)} % off it.")
        verdict = f"Use the handbook's {both_torques(handbook_nm)}."
        if abs(apart) > _UNLIKE:
            verdict += " The sum differs by more than a quarter: check thread, grade and unit once more."
    cautions = (
        HANDBOOK_FIRST,
        "Do not raise a torque because a higher-grade bolt was fitted (Army torque tables).",
        "Printed tables differ by 20 % for the same bolt; friction alone changes the clamp by a quarter.",
    )
    results = (
        Result("torque_nm", "Torque", torque, "Nm", both_torques(torque)),
        Result("clamp_n", "Clamp load", clamp, "N", _both_loads(clamp)),
        result("k", "Nut factor", factor),
    )
    return Worked(results, tuple(steps), cautions, verdict)


_THREAD = Input("thread", "Thread", "text", help="M8, M10x1.25, 5/16 UNF")
_GRADE = Input("grade", "Class or grade", "choice", choices=GRADES, help="marks on the head")
_FINISH = Input(
    "finish", "Threads", "choice", default="clean and dry", required=False, choices=tuple(REDUCTIONS)
)
_INTO = Input("into", "Screwed into", "choice", default=_METALS[0], required=False, choices=_METALS)
_PART = Input(
    "part_percent", "Part of the proof load", "number", "percent", "%", 20, 75, 75.0, required=False
)
_SOURCE = "SAE J429 bolt torque table and EN ISO 898-1 (secondary); reductions TM 5-3895-367-14&P App. H"

WORKINGS: tuple[Working, ...] = (
    Working(
        "proof-load",
        "Proof load of a bolt",
        "fasteners",
        (_THREAD, _GRADE),
        _proof_load,
        "EN ISO 898-1 and SAE J429 (secondary tables)",
        "marked metric and Unified bolts; within about 1 % of the printed tables",
    ),
    Working(
        "bolt-torque",
        "Torque for a bolt no handbook mentions",
        "fasteners",
        (
            _THREAD,
            _GRADE,
            _FINISH,
            _INTO,
            Input(
                "k", "Nut factor K", "number", "ratio", "ratio", 0.10, 0.30, required=False, help="0.20 dry"
            ),
            _PART,
            Input("handbook_nm", "Handbook torque", "number", "torque", "Nm", 0.1, 2000, required=False),
        ),
        _bolt_torque,
        _SOURCE,
        "75 % of proof; only the largest reduction is taken (common practice); +/-25 % at best",
        (HANDBOOK_FIRST,),
    ),
    *bolt_stretch.WORKINGS,
)
