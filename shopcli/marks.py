"""States as people see them: a sign, its ASCII twin and a word, so that nothing ever depends on colour.

The signs are read off printed lists: an empty ring has not begun, an arrow is under way, dots wait, a tick is
right, a struck ring is off. Each takes one column in every terminal.
"""

from collections.abc import Mapping

from shopcli.tuples import NamedTuple

NOTHING = "-"


class Mark(NamedTuple):
    """A state as it is shown: a sign of one column, its ASCII twin, and the word that says it all."""

    sign: str
    ascii: str
    word: str

    def text(self, *, plain: bool = False) -> str:
        """Return sign and word."""
        return f"{self.ascii if plain else self.sign} {self.word}"


def _marks(*rows: tuple[str, str, str, str]) -> dict[str, Mark]:
    return {state: Mark(sign, twin, word) for state, sign, twin, word in rows}


CARD_MARKS = _marks(
    ("booked", "◦", ".", "booked"),
    ("in hand", "▸", ">", "in hand"),
    ("held", "⋯", "~", "held"),
    ("checked", "✓", "v", "checked"),
    ("closed", "∎", "#", "closed"),
    ("void", "⊘", "x", "void"),
)
TASK_MARKS = _marks(
    ("open", "◦", ".", "open"),
    ("running", "▸", ">", "running"),
    ("barred", "⊠", "#", "barred"),
    ("done", "✓", "v", "done"),
    ("done out of limits", "!", "!", "done, out of limits"),
    ("left out", "⊘", "x", "left out"),
)
STANDING_MARKS = _marks(
    ("low", "▾", "<", "low"),
    ("in", "✓", "=", "in limits"),
    ("high", "▴", ">", "high"),
    ("", NOTHING, NOTHING, "not judged"),
)
SEVERITY_MARKS = _marks(
    ("stop", "⊠", "#", "stop"),
    ("soon", "!", "!", "soon"),
    ("watch", "⊚", "o", "watch"),
)
SEVERITY_WORDS = {
    "stop": "stop: not to be driven before it is mended",
    "soon": "soon: to be mended before long",
    "watch": "watch: to be looked at again",
}
PART_MARKS = _marks(
    ("wanted", "◦", ".", "wanted"),
    ("on order", "⋯", "~", "on order"),
    ("fitted", "✓", "v", "fitted"),
    ("returned", "◃", "<", "returned"),
    ("not used", "⊘", "x", "not used"),
)
PURCHASE_MARKS = _marks(
    ("drafted", "◦", ".", "drafted"),
    ("sent", "⋯", "~", "sent"),
    ("part in", "▸", ">", "part in"),
    ("in", "✓", "v", "in"),
    ("cancelled", "⊘", "x", "given up"),
)
EXCHANGE_MARKS = _marks(
    ("customer owes", "!", "!", "old unit to come"),
    ("here", "▸", ">", "here, to go back"),
    ("credit to come", "⋯", "~", "credit to come"),
    ("credited", "✓", "v", "credited"),
)
OWED_MARKS = _marks(
    ("owed", "!", "!", "owed"),
    ("done", "✓", "v", "done"),
    ("waived", "⊘", "x", "waived"),
)
FINDING_MARKS = _marks(
    ("open", "!", "!", "open"),
    ("done", "✓", "v", "done"),
    ("declined", "⊘", "x", "declined"),
)
NUMBER_MARKS = _marks(
    ("fine", "✓", "v", "known"),
    ("to confirm", "?", "?", "to confirm"),
    ("differs", "≠", "#", "differs"),
    ("missing", "◦", ".", "missing"),
)
CARRIED_MARKS = _marks(
    ("taken", "✓", "v", "taken on"),
    ("declined", "⊘", "x", "declined"),
    ("left", "◦", ".", "left"),
)


def _mark(marks: Mapping[str, Mark], state: str, *, plain: bool) -> str:
    return marks.get(state, Mark("?", "?", state)).text(plain=plain)


def card_state(state: str, *, plain: bool = False) -> str:
    """Write the state of a card.

    Examples
    --------
    >>> card_state("in hand"), card_state("held", plain=True)
    ('▸ in hand', '~ held')
    """
    return _mark(CARD_MARKS, state, plain=plain)


def task_state(
    state: str,
    *,
    running: bool = False,
    barred: bool = False,
    out_of_limits: bool = False,
    plain: bool = False,
) -> str:
    """Write the state of a task; an open one may be barred or running, and barred is what one sees first.

    One that is done with a reading left `out_of_limits` has no tick.

    Examples
    --------
    >>> task_state("done", out_of_limits=True)
    '! done, out of limits'
    >>> task_state("done"), task_state("open", running=True), task_state("open", barred=True, plain=True)
    ('✓ done', '▸ running', '# barred')
    """
    if state == "open":
        state = "barred" if barred else "running" if running else state
    elif state == "done" and out_of_limits:
        state = "done out of limits"
    return _mark(TASK_MARKS, state, plain=plain)


def standing(state: str, *, plain: bool = False) -> str:
    """Write how a reading stands to its limits.

    Examples
    --------
    >>> standing("low"), standing("in", plain=True), standing("")
    ('▾ low', '= in limits', '- not judged')
    """
    return _mark(STANDING_MARKS, state, plain=plain)


def severity(state: str, *, plain: bool = False) -> str:
    """Write how bad a finding is, in short.

    Examples
    --------
    >>> severity("stop"), severity("watch", plain=True)
    ('⊠ stop', 'o watch')
    """
    return _mark(SEVERITY_MARKS, state, plain=plain)


def severity_long(state: str) -> str:
    """Write how bad a finding is, for a customer.

    Examples
    --------
    >>> severity_long("soon")
    'soon: to be mended before long'
    """
    return SEVERITY_WORDS.get(state, state)


def purchase_state(state: str, *, plain: bool = False) -> str:
    """Write where an order to a supplier stands.

    Examples
    --------
    >>> purchase_state("part in"), purchase_state("cancelled", plain=True)
    ('▸ part in', 'x given up')
    """
    return _mark(PURCHASE_MARKS, state, plain=plain)


def exchange_state(stands: str, *, plain: bool = False) -> str:
    """Write where an old unit, or a part sent back, stands.

    Examples
    --------
    >>> exchange_state("customer owes")
    '! old unit to come'
    """
    return _mark(EXCHANGE_MARKS, stands, plain=plain)


def part_state(state: str, *, plain: bool = False) -> str:
    """Write the state of a part on a card.

    Examples
    --------
    >>> part_state("on order")
    '⋯ on order'
    """
    return _mark(PART_MARKS, state, plain=plain)


def owed_state(state: str, *, plain: bool = False) -> str:
    """Write the state of an owed check.

    Examples
    --------
    >>> owed_state("owed")
    '! owed'
    """
    return _mark(OWED_MARKS, state, plain=plain)


def finding_state(state: str, *, plain: bool = False) -> str:
    """Write the state of a finding.

    Examples
    --------
    >>> finding_state("declined")
    '⊘ declined'
    """
    return _mark(FINDING_MARKS, state, plain=plain)


def carried_choice(choice: str, *, plain: bool = False) -> str:
    """Write what becomes of something an earlier visit left.

    Examples
    --------
    >>> carried_choice("taken"), carried_choice("left", plain=True)
    ('✓ taken on', '. left')
    """
    return _mark(CARRIED_MARKS, choice, plain=plain)


def number_state(state: str, *, plain: bool = False) -> str:
    """Write how a number of a sheet stands.

    Examples
    --------
    >>> number_state("differs"), number_state("to confirm", plain=True)
    ('≠ differs', '? to confirm')
    """
    return _mark(NUMBER_MARKS, state, plain=plain)
