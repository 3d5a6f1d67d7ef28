"""How a station asks: one question at a time, and no key acts while one stands."""

from collections.abc import Callable, Coroutine, Sequence
from typing import Any

from shopcli.errors import ShopError
from shopcli.screens.dialogs import AskText, Choice, Confirm, Pick
from shopcli.screens.doing import Acting


class Asks(Acting[None]):
    """A station that asks questions in the order they come."""

    def __init__(self) -> None:
        super().__init__()
        self._is_asking = False

    def ask(self, question: Callable[..., Coroutine[Any, Any, None]]) -> None:
        """Begin to ask something, unless something is being asked already."""
        if not self._is_asking:
            self._is_asking = True
            self.asking_changed()
            self.run_worker(self._asking(question), group="asks", exit_on_error=False)

    async def _asking(self, question: Callable[..., Coroutine[Any, Any, None]]) -> None:
        try:
            await question(self)
        except ShopError as error:
            self.tell_error(error)
        finally:
            self._is_asking = False
            self.asking_changed()
            self.refresh_bindings()  # no key acted meanwhile: the line of keys shows them again

    def asking_changed(self) -> None:
        """Hear that a question is on its way, or is answered."""

    @property
    def is_asking(self) -> bool:
        """Whether a question stands, or is on its way: keys pressed meanwhile are no acts."""
        return self._is_asking

    async def ask_text(
        self,
        question: str,
        *,
        value: str = "",
        note: str = "",
        placeholder: str = "",
        check: Callable[[str], object] | None = None,
        understood: Callable[[str], str] | None = None,
        allow_empty: bool = False,
        offered: bool = False,
    ) -> str | None:
        """Ask for a line; None when it was left. A value that is `offered` gives way to the first letter typed."""
        asked = AskText(
            question,
            value=value,
            note=note,
            placeholder=placeholder,
            check=check,
            understood=understood,
            allow_empty=allow_empty,
            offered=offered,
        )
        return await self.app.push_screen_wait(asked)

    async def ask_pick(
        self, question: str, choices: Sequence[Choice], *, note: str = "", preset: bool = True
    ) -> str | None:
        """Ask which one; None when it was left. Without `preset` none is chosen before somebody does."""
        return await self.app.push_screen_wait(Pick(question, choices, note=note, preset=preset))

    async def ask_yes(self, question: str, *, note: str = "") -> bool:
        """Ask yes or no; only ``y`` is yes."""
        return await self.app.push_screen_wait(Confirm(question, note=note))
