"""Screw threads: an old car carries five families of them, and two of them nearly mate.

Metric, Unified, Whitworth (BSW and BSF) and BA sizes are computed from diameter and pitch. Crossing
families is refused even where the pitch agrees.
"""

from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, listed, trimmed, within
from shopcli.workings.telling import MM_PER_INCH, inch_words, result, say, words
from shopcli.workings.thread_table import Thread, find, table

SOURCE = (
    "ISO 261 and ISO 898-1 (metric), ASME B1.1 and FED-STD-H28/2B (Unified), BS 84 (BSW, BSF), BS 93 (BA); "
    "sizes from secondary tables"
)
_WORN = 0.01  # a reading may lie this much above nominal
_UNDER = 0.04  # and nominal this much above the reading
_PITCH_BAND = 0.03
_PITCH_ALIKE = 0.02
_SIZE_ALIKE = 0.03


def candidates(major_mm: float, pitch_mm: float) -> tuple[Thread, ...]:
    """Threads a measured bolt may be, nearest first.

    Parameters
    ----------
    major_mm : float
        Measured outside diameter, 1 to 30, [mm]
    pitch_mm : float
        Measured pitch, 0.1 to 5, [mm]

    Returns
    -------
    tuple of Thread
        Sizes whose diameter lies from 1 % below to 4 % above the reading, with the pitch within 3 %.

    Raises
    ------
    OutOfRange
        If a reading is beyond the table.

    Notes
    -----
    A bolt measures a little under its nominal size. The bands are common practice, no source.

    Examples
    --------
    >>> [thread.name for thread in candidates(9.45, 1.5875)]
    ['3/8-16 UNC', '3/8-16 BSW']
    """
    within("major_mm", major_mm, 1.0, 30.0, "mm")
    within("pitch_mm", pitch_mm, 0.1, 5.0, "mm")
    fits = [
        t
        for t in table()
        if (1 - _WORN) * major_mm <= t.major_mm <= (1 + _UNDER) * major_mm
        and abs(t.pitch_mm / pitch_mm - 1) <= _PITCH_BAND
    ]
    return tuple(sorted(fits, key=lambda t: abs(t.pitch_mm / pitch_mm - 1) + abs(t.major_mm / major_mm - 1)))


def mates(first: Thread, second: Thread) -> tuple[bool, str]:
    """Whether two threads may be screwed together, and why not.

    Parameters
    ----------
    first, second : Thread
        Bolt and hole.

    Returns
    -------
    tuple of bool and str
        Whether they are the same thread, and the reason in words.

    Notes
    -----
    Only the same thread is let through: a pair that merely meshes strips or works loose.

    Examples
    --------
    >>> mates(find("3/8 BSW"), find("3/8 UNC"))[0]
    False
    """
    if first == second:
        return True, "same thread"
    turns_alike = abs(first.pitch_mm / second.pitch_mm - 1) < _PITCH_ALIKE
    size_alike = abs(first.major_mm / second.major_mm - 1) < _SIZE_ALIKE
    if size_alike and turns_alike and first.angle_deg != second.angle_deg:
        flanks = f"{trimmed(first.angle_deg)} and {trimmed(second.angle_deg)} degree flanks"
        return False, f"size and pitch nearly agree, it will start, but {flanks} do not bear: never mix them"
    if size_alike and not turns_alike:
        pitches = f"{pitch_words(first)} against {pitch_words(second)}"
        return False, f"{pitches}: it binds after a turn or two"
    return False, "different size"


def pitch_words(thread: Thread) -> str:
    """Pitch as the family counts it.

    Examples
    --------
    >>> pitch_words(find("M8")), pitch_words(find("1/4 BSF"))
    ('1.25 mm', '26 threads per inch')
    """
    if thread.turns_per_inch:
        return f"{thread.turns_per_inch} threads per inch"
    return f"{trimmed(thread.pitch_mm, 2)} mm"


def size_words(thread: Thread, value_mm: float) -> str:
    """Diameter in the unit of the family, millimetres beside it.

    Examples
    --------
    >>> size_words(find("1/4 BSF"), 6.35)
    '1/4 in (6.35 mm)'
    """
    if thread.turns_per_inch:
        return f"{inch_words(value_mm / MM_PER_INCH, 32)} ({figure(value_mm, 2)} mm)"
    return f"{figure(value_mm, 2)} mm"


def _diameter(name: str, label: str, thread: Thread, value_mm: float) -> Result:
    return Result(name, label, value_mm, "mm", size_words(thread, value_mm))


def _area_words(thread: Thread) -> str:
    return (
        f"{say(thread.stress_area_mm2, 'mm2', 1)} ({say(thread.stress_area_mm2 / MM_PER_INCH**2, 'in2', 4)})"
    )


def _thread(thread: str, other: str | None = None) -> Worked:
    found = find(thread)
    flanks = say(found.angle_deg, "deg", 1, trim=True)
    steps = (
        f"{found.name}: {found.family} {found.series}, flanks {flanks}, {pitch_words(found)}.",
        f"Effective diameter {size_words(found, found.effective_mm)}.",
        f"Minor diameter {size_words(found, found.minor_mm)}.",
        f"Stress area by {found.area_rule}: {_area_words(found)}.",
    )
    verdict = ""
    cautions: tuple[str, ...] = ()
    if other:
        match, why = mates(found, find(other))
        pair = f"{found.name} and {find(other).name}"
        verdict = f"{pair} belong together." if match else f"{pair} do not go together: {why}."
        cautions = () if match else ("Do not force it: a crossed thread has to be cut again.",)
    results = (
        words("name", "Thread", found.name),
        Result("angle_deg", "Flank angle", found.angle_deg, "deg", flanks),
        Result("pitch_mm", "Pitch", found.pitch_mm, "mm", pitch_words(found)),
        _diameter("major_mm", "Major diameter", found, found.major_mm),
        _diameter("effective_mm", "Effective diameter", found, found.effective_mm),
        _diameter("minor_mm", "Minor diameter", found, found.minor_mm),
        Result("area_mm2", "Stress area", found.stress_area_mm2, "mm2", _area_words(found)),
    )
    return Worked(results, steps, cautions, verdict)


def _thread_find(major_mm: float, pitch_mm: float) -> Worked:
    found = candidates(major_mm, pitch_mm)
    names = tuple(t.name for t in found)
    per_inch = trimmed(MM_PER_INCH / pitch_mm, 1)
    measured = f"{figure(major_mm, 2)} mm over the crests, pitch {figure(pitch_mm, 3)} mm"
    steps = [f"Measured {measured} ({per_inch} per inch)."]
    for t in found:
        flanks = say(t.angle_deg, "deg", 1, trim=True)
        steps.append(f"{t.name}: nominal {size_words(t, t.major_mm)}, {pitch_words(t)}, flanks {flanks}.")
    angles = sorted({t.angle_deg for t in found})
    cautions: tuple[str, ...] = ()
    if len(angles) > 1:
        told = listed([trimmed(a, 1) for a in angles])
        cautions = (f"Flanks of {told} degrees are possible: only a thread gauge tells them apart.",)
    verdict = listed(names) if names else "No thread of the table: measure again, or it is a special one."
    return Worked((Result("threads", "May be", names, "", verdict),), tuple(steps), cautions, verdict)


def _stress_area(thread: str) -> Worked:
    found = find(thread)
    area_in2 = found.stress_area_mm2 / MM_PER_INCH**2
    results = (
        Result("area_mm2", "Stress area", found.stress_area_mm2, "mm2", _area_words(found)),
        result("area_in2", "Stress area in square inches", area_in2, "in2", decimals=4),
    )
    return Worked(results, (f"{found.name}: {found.area_rule}.", f"Stress area {_area_words(found)}."))


_THREAD = Input("thread", "Thread", "text", help="M8, M10x1.25, 5/16 UNF, 3/8 BSW, 1/4 BSF, 2BA")
_MAJOR = Input("major_mm", "Diameter over the crests", "number", "length", "mm", low=1, high=30)
_PITCH = Input("pitch_mm", "Pitch (25.4 / threads per inch)", "number", "length", "mm", low=0.1, high=5)

WORKINGS: tuple[Working, ...] = (
    Working(
        "thread",
        "A thread and its sizes",
        "fasteners",
        (_THREAD, Input("other", "Does it go with", "text", required=False, help="the nut or the hole")),
        _thread,
        SOURCE,
        "M3 to M24, #4 to 1 in, 0BA to 16BA; basic sizes without tolerance",
    ),
    Working(
        "thread-find",
        "Which thread is this",
        "fasteners",
        (_MAJOR, _PITCH),
        _thread_find,
        SOURCE + "; bands of the search: common practice, no source",
        "a clean bolt measured with a caliper and a thread gauge",
    ),
    Working(
        "stress-area",
        "Stress area of a thread",
        "fasteners",
        (_THREAD,),
        _stress_area,
        SOURCE,
        "metric and Unified by the standard's rule; BSW, BSF and BA by the mean diameter, said so",
    ),
)
