"""What may be asked of photos."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class AddPhoto(Command):
    """Note a photo that was copied into the shop's own folder under `file`: of a card, its task or a finding."""

    rule: ClassVar[str] = "photos:add_photo"
    card_id: int
    file: str
    kind: str
    size: int
    caption: str = ""
    task_id: int | None = None
    finding_id: int | None = None


@dataclass(frozen=True, slots=True)
class RemovePhoto(Command):
    """Take a photo off a card; the file stays in the shop's folder."""

    rule: ClassVar[str] = "photos:remove_photo"
    photo_id: int
    reason: str
