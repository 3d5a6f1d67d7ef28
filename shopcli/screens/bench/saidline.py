"""The last answer of the shop in words; it stays until the next key, and then says what the next key would be."""

from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.screens.widgets.linespane import LinesPane

MARKS = {"done": "✓ ", "warned": "! ", "refused": "⊠ ", "hint": "▸ "}
STYLES = {
    "done": "bold $text-success",
    "warned": "bold $text-warning",
    "refused": "bold $text-error",
    "hint": "",
}


class SaidLine(LinesPane):
    """An answer, a refusal or a hint."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._said: tuple[str, ...] = ()
        self._kind = "hint"
        self._hint = ""

    @property
    def says(self) -> str:
        """What stands there, as one text."""
        return "\n".join(self._said) if self._said else self._hint

    def answer(self, said: tuple[str, ...], kind: str) -> None:
        """Show an answer (``done``), one that is not as it should be (``warned``) or a refusal (``refused``)."""
        self._said, self._kind = said, kind
        self._show()

    def add(self, words: str) -> None:
        """Say something more, behind an answer that stands there."""
        if self._said:
            self.answer((*self._said, words), self._kind)

    def hint(self, words: str) -> None:
        """Change what stands there while no answer does."""
        self._hint = words
        self._show()

    def clear(self) -> None:
        """Take the answer away; the hint shows again."""
        if self._said:
            self._said = ()
            self._show()

    def _show(self) -> None:
        for kind in MARKS:
            self.set_class(kind == (self._kind if self._said else "hint"), f"-{kind}")
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the answer, or the hint where there is none."""
        kind = self._kind if self._said else "hint"
        text = " ".join(self._said) if self._said else self._hint
        return wrapped(text, width, STYLES[kind], first=MARKS[kind], rest="  ")
