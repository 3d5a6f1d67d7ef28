"""How the desk asks: a line, one of several, a letter; going back does nothing.

Every question says what it understood while it is typed.
"""

from collections.abc import Callable, Sequence
from types import ModuleType
from typing import TYPE_CHECKING, TypeVar

from shopcli.present import money
from shopcli.screens.doing import Acting

if TYPE_CHECKING:
    from shopcli.screens.dialogs import Choice

AnswerT = TypeVar("AnswerT")


def commands() -> ModuleType:
    """Return what may be asked of the shop: loaded with the first question, not before the first picture."""
    from shopcli.shop import commands as loaded

    return loaded


class Questions(Acting[AnswerT]):
    """A screen that asks and goes on with the answer."""

    def ask(
        self,
        question: str,
        then: Callable[[str], None],
        *,
        note: str = "",
        value: str = "",
        check: Callable[[str], object] | None = None,
        understood: Callable[[str], str] | None = None,
        placeholder: str = "",
        allow_empty: bool = False,
        offered: bool = False,
    ) -> None:
        """Ask for a line and go on with it; going back does nothing."""
        from shopcli.screens.dialogs import AskText

        dialog = AskText(
            question,
            note=note,
            value=value,
            check=check,
            understood=understood,
            placeholder=placeholder,
            allow_empty=allow_empty,
            offered=offered,
        )
        self.app.push_screen(dialog, lambda text: None if text is None else then(text))

    def ask_reason(self, question: str, note: str, then: Callable[[str], None]) -> None:
        """Ask for a reason in a few words."""
        self.ask(question, then, note=note, placeholder="in a few words")

    def pick(
        self, question: str, choices: Sequence["Choice"], then: Callable[[str], None], *, note: str = ""
    ) -> None:
        """Ask which one and go on with it; going back does nothing."""
        from shopcli.screens.dialogs import Pick

        self.app.push_screen(
            Pick(question, choices, note=note), lambda key: None if key is None else then(key)
        )

    def ask_key(
        self,
        question: str,
        choices: Sequence["Choice"],
        then: Callable[[str], None],
        *,
        note: str = "",
        back: Callable[[], None] | None = None,
    ) -> None:
        """Ask for one of a few letters; Enter is none of them. Esc goes `back` to what was typed, or does nothing."""
        from shopcli.screens.dialogs import AskKey

        def answer(key: str | None) -> None:
            if key is not None:
                then(key)
            elif back is not None:
                back()

        words = "types it again" if back is not None else ""
        self.app.push_screen(AskKey(question, choices, note=note, back=words), answer)


def sum_words(text: str, currency: str) -> str:
    """Say a sum back as it was understood; nothing while nothing is typed."""
    from shopcli.shop.amounts import from_minor
    from shopcli.shop.typed_figures import read_sum

    minor = read_sum(text)
    return "" if minor is None else money(from_minor(minor), currency)
