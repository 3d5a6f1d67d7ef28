"""Whoever is chosen by the first letter of the name may type the whole of it: the rest is no key of what is shown then."""

from textual import events
from textual.app import App

TOGETHER_S = 1.0  # letters further apart are not of one word: common practice, no source


class RestOfName:
    """What is still to be typed of a name, as long as it comes in one go."""

    def __init__(self) -> None:
        self._rest = ""
        self._at = 0.0

    def begin(self, rest: str, at: float) -> None:
        """Expect the rest of a name, after a letter typed at a time in seconds."""
        self._rest, self._at = rest.casefold(), at

    def goes_on(self, sign: str, at: float) -> bool:
        """Say whether a sign goes on with the name; another, or one that comes late, ends it.

        Examples
        --------
        >>> name = RestOfName()
        >>> name.begin("om", 5.0)
        >>> name.goes_on("O", 5.4), name.goes_on("m", 6.1), name.goes_on("m", 6.2)
        (True, True, False)
        >>> name.begin("om", 5.0)
        >>> name.goes_on("o", 6.5), name.goes_on("o", 6.6)
        (False, False)
        """
        sign = sign.casefold()
        if sign and self._rest.startswith(sign) and at - self._at <= TOGETHER_S:
            self.begin(self._rest.removeprefix(sign), at)
            return True
        self._rest = ""
        return False


class WholeNameApp(App[None]):
    """An application that lets the rest of a name pass by; it is asked when a key's turn has come, not before."""

    def __init__(self) -> None:
        super().__init__()
        self.rest_of_name = RestOfName()

    async def on_event(self, event: events.Event) -> None:
        """Let a key pass by that goes on with the name somebody was chosen by."""
        if isinstance(event, events.Key) and not event.is_forwarded:
            sign = event.character if event.is_printable else None
            if self.rest_of_name.goes_on(sign or "", event.time):
                return
        await super().on_event(event)
