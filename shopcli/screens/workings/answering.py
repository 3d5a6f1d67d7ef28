"""What a form for a sum amounts to: how each text is understood, what is wrong with it, and the answer if there is one.

Nothing here knows a screen: it is asked in a thread after every key and says everything the screen shows.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shopcli.errors import OutOfRange, ShopError
from shopcli.workings.frame import Input, Value, Worked, Working
from shopcli.worklists.asked_inputs import allowed, said_with_unit, unit_chooser, unit_of
from shopcli.worklists.known_inputs import write_input
from shopcli.worklists.typed_inputs import read_each
from shopcli.worklists.workings_at_hand import ASCII_ONLY, draws_plainly, work
from shopcli.worklists.workings_words import asked_of, may_be_left_out


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to a form.

    `understood` says by input how a text is taken, `troubles` what is wrong with one, `words` why there is no
    answer; `worked` is the answer.
    """

    working: Working
    understood: Mapping[str, str] = field(default_factory=dict)
    troubles: Mapping[str, str] = field(default_factory=dict)
    words: str = ""
    worked: Worked | None = None


def answer(working: Working, typed: Mapping[str, str], *, plain: bool = False) -> Answer:
    """Answer a form.

    Parameters
    ----------
    working : Working
        The sum.
    typed : mapping of str to str
        Text of each field by the name of its input.
    plain : bool, optional
        Draw with plain characters.
    """
    values, refused = read_each(working, typed)
    chooser = unit_chooser(working)
    chosen = str(values.get(chooser.name, "")) if chooser else ""
    understood = {i.name: said for i in working.inputs if (said := _understood(i, typed, values, chosen))}
    troubles = {name: trouble_words(error) for name, error in refused.items()}
    if troubles:
        labels = [i.label for i in working.inputs if i.name in troubles]
        return Answer(working, understood, troubles, "Not to be read yet: " + "; ".join(labels) + ".")
    wanted = [i.label for i in asked_of(working) if not may_be_left_out(i) and values.get(i.name) is None]
    if wanted:
        return Answer(working, understood, words="Still wanted: " + "; ".join(wanted) + ".")
    if plain and draws_plainly(working):
        values[ASCII_ONLY] = True
    try:
        worked = work(working, values)
    except ShopError as error:
        return _refused(working, understood, error)
    return Answer(working, understood, worked=worked)


def trouble_words(error: ShopError) -> str:
    """Say what is wrong with a text, in one line and with the way out.

    Examples
    --------
    >>> trouble_words(OutOfRange("Gap", 3.0, "0 to 2 mm"))
    'out of range; allowed: 0 to 2 mm'
    """
    if isinstance(error, OutOfRange):
        return ". ".join(filter(None, (f"out of range; allowed: {error.allowed}", error.hint)))
    message = error.message.rstrip(".")
    return f"{message}. {error.hint}" if error.hint else message


def _refused(working: Working, understood: Mapping[str, str], error: ShopError) -> Answer:
    """Tell a refusal of the sum itself; where it names an input, that field shows it too."""
    name = error.name if isinstance(error, OutOfRange) else ""
    troubles = {name: trouble_words(error)} if any(i.name == name for i in working.inputs) else {}
    words = f"{error.message}. {error.hint}" if error.hint else f"{error.message}."
    return Answer(working, understood, troubles, words)


def _understood(asked: Input, typed: Mapping[str, str], values: Mapping[str, Value], chosen: str) -> str:
    """Say how a text is taken where that says more than the text itself; `chosen` is a unit said elsewhere."""
    value, text = values.get(asked.name), typed.get(asked.name, "").strip()
    if value is None or not text:
        return ""
    said = write_input(asked, value, unit=chosen if said_with_unit(asked) else unit_of(asked))
    if isinstance(value, tuple):
        said = _in_a_row(said)
    return "" if said == " ".join(text.split()) else f"= {said}"


def _in_a_row(listed: str) -> str:
    """Say a unit once behind all its figures.

    Examples
    --------
    >>> _in_a_row("150 psi; 148 psi"), _in_a_row("1.26 SG")
    ('150 148 psi', '1.26 SG')
    """
    parts = [one.partition(" ") for one in listed.split("; ")]
    units = {unit for _, _, unit in parts}
    return (
        f"{' '.join(figure for figure, _, _ in parts)} {units.pop()}".strip() if len(units) == 1 else listed
    )


def takes(asked: Input) -> str:
    """Say in short what an empty field takes.

    Examples
    --------
    >>> takes(Input("gaps_mm", "Gaps", "numbers", quantity="length", unit="mm", low=0.0, high=2.0))
    'several, each 0 to 2 mm'
    """
    return allowed(asked).replace(", blanks or ; between", "") or "as written"
