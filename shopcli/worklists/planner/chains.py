"""What must come before what, with the reason of each tie, and the chain to name when ties contradict.

Beside the ties themselves it keeps, as bits of whole numbers, everything that lies before and behind each
task, so that a rule can ask "is this before that?" at no cost.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from shopcli.worklists.circles import find_circle

Kind = Literal["after", "asked", "needs", "ends", "again", "tag", "cold", "cools", "parts", "leaves"]
_WORDS = {
    "after": '"{b}" comes after "{a}"',
    "asked": '"{a}" is asked to come before "{b}"',
    "needs": '"{b}" needs {what}, which "{a}" brings about',
    "ends": '"{a}" needs {what}, which "{b}" ends',
    "again": '"{a}" ends {what} and "{b}" brings it back',
    "tag": '"{a}" must come before "{b}": {what}',
    "cold": '"{a}" wants the engine cold and "{b}" warms it',
    "cools": '"{b}" wants the engine cold again after "{a}"',
    "parts": 'parts are missing for "{b}" or for what it waits for',
    "leaves": 'the car leaves with "{b}"',
}


@dataclass(frozen=True, slots=True)
class Tie:
    """One must have ended, and `lag` minutes gone by, before the other begins."""

    lag: int
    kind: Kind
    what: str = ""


class Contradiction(Exception):  # noqa: N818 - it is no error until somebody says whose
    """A tie that cannot be made because the other order is already fixed; `chain` says it in words, `kinds` of ties."""

    def __init__(self, task: int, chain: str, kinds: frozenset[str] = frozenset()) -> None:
        super().__init__(chain)
        self.task = task
        self.chain = chain
        self.kinds = kinds


def bits(mask: int) -> Iterator[int]:
    """Yield the numbers of the bits that are set.

    Examples
    --------
    >>> list(bits(0b1010))
    [1, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


@dataclass
class Chains:
    """Ties between numbered tasks. `early` are in hand already: they are before all others, without a tie."""

    titles: Sequence[str]
    early: int = 0
    ties: dict[tuple[int, int], Tie] = field(default_factory=dict)
    before: list[int] = field(init=False)
    behind: list[int] = field(init=False)

    def __post_init__(self) -> None:
        n = len(self.titles)
        later = (1 << n) - 1 & ~self.early
        self.before = [0 if self.early >> j & 1 else self.early for j in range(n)]
        self.behind = [later if self.early >> j & 1 else 0 for j in range(n)]

    def is_before(self, a: int, b: int) -> bool:
        """Whether `a` is certain to come before `b`."""
        return bool(self.before[b] >> a & 1)

    def lag(self, a: int, b: int) -> int:
        """Return the minutes a tie asks for between `a` and `b`, or -1 when there is none."""
        tie = self.ties.get((a, b))
        return -1 if tie is None else tie.lag

    def tie(self, a: int, b: int, kind: Kind, *, lag: int = 0, what: str = "") -> bool:
        """Put `a` before `b`; return whether that says anything new.

        Raises
        ------
        Contradiction
            If `b` is before `a` already.
        """
        known = self.ties.get((a, b))
        if known is not None and known.lag >= lag:
            return False
        if a == b or self.is_before(b, a):
            raise self.circle(a, b, kind, what)
        implied = self.is_before(a, b)
        if implied and lag == 0 and not self.early >> a & 1:
            return False
        self.ties[a, b] = Tie(lag, kind, what) if known is None else Tie(lag, known.kind, known.what)
        if not implied:
            self._close(a, b)
        return True

    def _close(self, a: int, b: int) -> None:
        above, below = self.before[a] | 1 << a, self.behind[b] | 1 << b
        for j in bits(below):
            self.before[j] |= above
        for j in bits(above):
            self.behind[j] |= below

    def circle(
        self, a: int, b: int, kind: Kind, what: str = "", *, blame: int | None = None
    ) -> Contradiction:
        """Return, in words, the circle that a tie from `a` to `b` would close; `b` is to blame unless said."""
        waits: dict[str, list[str]] = {str(j): [] for j in range(len(self.titles))}
        for one, other in self.ties:
            waits[str(other)].append(str(one))
        waits[str(b)].append(str(a))
        circle = [int(name) for name in find_circle(waits)][::-1]
        ties = {**self.ties, (a, b): Tie(0, kind, what)}
        around = [(one, other, ties[one, other]) for one, other in pairwise(circle)]
        told = [self._say(*link) for link in around]
        chain = "; ".join(told) or f'"{self.titles[b]}" is in hand already'
        return Contradiction(b if blame is None else blame, chain, frozenset(t.kind for _, _, t in around))

    def _say(self, a: int, b: int, tie: Tie) -> str:
        return _WORDS[tie.kind].format(a=self.titles[a], b=self.titles[b], what=tie.what)

    def ties_at(self, j: int, *, before: bool) -> list[str]:
        """Say the ties that put others right before task `j`, or right behind it."""
        side = 1 if before else 0
        return [self._say(a, b, tie) for (a, b), tie in self.ties.items() if (a, b)[side] == j]
