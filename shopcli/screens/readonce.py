"""The style sheets of the application, each read once: a screen opened for the first time has only its own read."""

from textual.css.stylesheet import Stylesheet


class ReadOnce(Stylesheet):
    """Sheets of which only those are read that were not, unless the colours they speak of change.

    Every screen that is opened for the first time has all sheets asked for several times; they are the same ones.
    """

    def __init__(self, *, variables: dict[str, str] | None = None) -> None:
        super().__init__(variables=variables)
        self._given = variables

    def set_variables(self, variables: dict[str, str]) -> None:
        """Take the colours; where they are those there are, what was read stays."""
        if variables != self._given:
            self._given = dict(variables)
            super().set_variables(variables)

    def reparse(self) -> None:
        """Read what is new; a sheet that is wrong leaves the rules as they were."""
        self.parse()
