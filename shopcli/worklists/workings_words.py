"""A working and its answer as plain lines of text: the same words on the command line and on the docs page."""

from collections.abc import Mapping, Sequence

from shopcli.columns import display_width, pad, wrap
from shopcli.workings.frame import Input, Result, Value, Worked, Working
from shopcli.worklists.asked_inputs import allowed, said_with_unit, unit_chooser, unit_of
from shopcli.worklists.known_inputs import default_text, write_input
from shopcli.worklists.workings_at_hand import ASCII_ONLY, pictured

WIDTH = 80
_MOST_LABEL = 34


def asked_of(working: Working) -> tuple[Input, ...]:
    """Return the inputs a person is asked for; how a picture is drawn is not among them."""
    return tuple(each for each in working.inputs if each.name != ASCII_ONLY)


def may_be_left_out(asked: Input) -> bool:
    """Tell whether an input has to be given."""
    return not asked.required or asked.default is not None


def result_text(result: Result) -> str:
    """Return a result as a person says it."""
    return result.text or f"{result.value} {result.unit}".strip()


def input_line(asked: Input) -> tuple[str, str, str]:
    """Return (label, what it takes, what an empty field stands for).

    Examples
    --------
    >>> input_line(Input("stages", "Stages", "whole", low=1, high=6, default=3, required=False))
    ('Stages', 'whole, 1 to 6', '3')
    """
    takes = allowed(asked)
    note = asked.help if asked.help not in takes else ""
    left_out = default_text_of(asked) or ("-" if may_be_left_out(asked) else "")
    return asked.label, "; ".join(filter(None, (takes, note))), left_out


def default_text_of(asked: Input) -> str:
    """Return the default of an input as it would be typed."""
    return default_text(Working("", "", "", (asked,), lambda: Worked(()), "", ""), asked)


def answer_lines(worked: Worked, *, plain: bool = False, width: int = WIDTH) -> list[str]:
    r"""Return an answer as lines: the cautions before anything is done by it, verdict, results, picture, steps.

    Parameters
    ----------
    worked : Worked
        The answer.
    plain : bool, optional
        Draw the picture in plain characters.
    width : int, optional
        Where sentences break; pictures are never broken, [columns]

    Examples
    --------
    >>> done = Worked((Result("g", "gap", 0.4, "mm", "0.40 mm"),), ("16 thou x 0.0254",), ("Cold engine.",))
    >>> print("\n".join(answer_lines(done)))
    ! Cold engine.
    <BLANKLINE>
    gap  0.40 mm
    <BLANKLINE>
      16 thou x 0.0254
    """
    blocks = [
        [line for caution in worked.cautions for line in hung(caution, width, "! ")],
        wrap(worked.verdict, width) if worked.verdict else [],
        result_lines(worked.results, width),
        pictured(worked, plain=plain).splitlines(),
        [line for step in worked.steps for line in hung(step, width, "  ")],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block).split("\n")


def result_lines(results: Sequence[Result], width: int = WIDTH) -> list[str]:
    """Return results one below the other, their values in a column."""
    column = min(_MOST_LABEL, max((display_width(r.label) for r in results), default=0))
    lines: list[str] = []
    for each in results:
        first, *rest = wrap(result_text(each), max(20, width - column - 2))
        lines.append(f"{pad(each.label, column)}  {first}")
        lines += [" " * (column + 2) + line for line in rest]
    return lines


def hung(text: str, width: int, mark: str) -> list[str]:
    """Return a sentence broken into lines that hang behind a mark."""
    first, *rest = wrap(text, width - len(mark))
    return [mark + first, *(" " * len(mark) + line for line in rest)]


def inputs_said(working: Working, inputs: Mapping[str, Value]) -> tuple[tuple[str, str], ...]:
    """Return what was understood, as (label, text), in the order of the description."""
    said = []
    chooser = unit_chooser(working)
    chosen = str(inputs.get(chooser.name) or "") if chooser else ""
    for asked in asked_of(working):
        if inputs.get(asked.name) is not None:
            unit = chosen if said_with_unit(asked) else unit_of(asked)
            said.append((asked.label, write_input(asked, inputs[asked.name], unit=unit)))
    return tuple(said)
