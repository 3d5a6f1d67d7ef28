"""Headings with what stands below them, in two columns where there is room."""

from shopcli.screens.whereabouts import TWO_COLUMNS, laid
from shopcli.screens.widgets.lines import Line, beside
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.where_words import Block

GAP = 4


class BlocksPane(LinesPane):
    """The blocks; until there are any, what is being done meanwhile."""

    def __init__(self, meanwhile: str, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._meanwhile = meanwhile
        self._blocks: tuple[Block, ...] | None = None

    def show(self, blocks: tuple[Block, ...]) -> None:
        """Show these."""
        self._blocks = blocks
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the blocks for the room there is."""
        del rows
        if self._blocks is None:
            return [((self._meanwhile, ""),)]
        if width < TWO_COLUMNS:
            return laid(self._blocks, width)
        room = (width - GAP) // 2
        left = laid(tuple(b for b in self._blocks if not b.side), room)
        right = laid(tuple(b for b in self._blocks if b.side), width - GAP - room)
        return beside(left, right, room, GAP)
