"""The photos of a card, as they are listed and shown."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from shopcli.store.photos import path_of
from shopcli.store.shop import Shop

PHOTOS = """
SELECT f.id, f.file, f.kind, f.size, f.caption, p.name, f.at, f.task_id, COALESCE(t.title, ''), f.finding_id,
       COALESCE(g.what, '')
FROM photo f JOIN person p ON p.id = f.taken_by LEFT JOIN task t ON t.id = f.task_id
LEFT JOIN finding g ON g.id = f.finding_id WHERE f.card_id = ? AND f.removed_at IS NULL ORDER BY f.id"""


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo and what it shows; `there` is False when somebody moved the file away."""

    id: int
    file: str
    kind: str
    size: int
    caption: str
    by: str
    at: datetime
    task_id: int | None
    task: str
    finding_id: int | None
    finding: str
    path: Path
    there: bool

    @property
    def of(self) -> str:
        """What it is a photo of, empty for the car as a whole."""
        return f"finding: {self.finding}" if self.finding else f"task: {self.task}" if self.task else ""


def photos(shop: Shop, card_id: int) -> tuple[PhotoView, ...]:
    """Return the photos of a card, oldest first."""
    found = []
    for row in shop.fetch(PHOTOS, (card_id,)):
        path = path_of(shop, row[1])
        found.append(PhotoView(*row[:6], shop.local(row[6]), *row[7:], path=path, there=path.is_file()))
    return tuple(found)
