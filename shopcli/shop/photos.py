"""Photos of a card, of a task or of a finding: the record keeps the file's name in the shop's own folder, nothing else of it."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.photo_commands import AddPhoto, RemovePhoto
from shopcli.shop.photo_names import KINDS, safe_name
from shopcli.shop.records import Card, Finding, Photo, Task

# A photo may be the only witness of what was found: nothing here throws one away, people do.
KEPT = "The file stays in the shop's folder; who wants it gone deletes it there."


def add_photo(session: Session, act: Act, cmd: AddPhoto) -> Change:
    """Note a photo.

    Raises
    ------
    BadInput
        When name, kind or size are none of a photo of ours.
    Refused
        When the card is closed, the task is another card's or the finding another vehicle's, or it is there already.
    """
    card = get(session, Card, cmd.card_id, "card")
    if card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}", hint="Open a new card for the vehicle.")
    if not safe_name(cmd.file) or KINDS.get(cmd.kind) != cmd.file.rpartition(".")[2] or cmd.size < 1:
        raise BadInput(
            "that is no photo of the shop's folder", hint="Add it by its path; it is copied there."
        )
    if cmd.task_id is not None and get(session, Task, cmd.task_id, "task").card_id != cmd.card_id:
        raise Refused("that task is on another card", hint="Choose a task of this card.")
    finding = get(session, Finding, cmd.finding_id, "finding") if cmd.finding_id else None
    if finding is not None and finding.vehicle_id != card.vehicle_id:
        raise Refused("that finding is of another vehicle", hint="Choose a finding of this vehicle.")
    same = (Photo.card_id == cmd.card_id, Photo.file == cmd.file, Photo.removed_at == None)  # noqa: E711
    where = (Photo.task_id == cmd.task_id, Photo.finding_id == cmd.finding_id)
    if session.exec(select(Photo).where(*same, *where)).first():
        raise Refused("that photo is there already")
    photo = saved(
        session,
        Photo(
            card_id=cmd.card_id,
            vehicle_id=card.vehicle_id,
            task_id=cmd.task_id,
            finding_id=cmd.finding_id,
            file=cmd.file,
            kind=cmd.kind,
            size=cmd.size,
            caption=clean_line(cmd.caption, name="caption"),
            taken_by=act.by,
            at=act.at,
        ),
    )
    if finding is not None and not finding.photo:
        finding.photo = cmd.file
        session.add(finding)
    return Change("photo", key_of(photo), cmd.card_id, said=(f"Photo kept: {cmd.file}.",))


def remove_photo(session: Session, act: Act, cmd: RemovePhoto) -> Change:
    """Take a photo off a card, with a reason."""
    photo = get(session, Photo, cmd.photo_id, "photo")
    if photo.removed_at is not None:
        raise Refused("that photo was taken off already")
    reason = reason_given(cmd.reason, "taking a photo off")
    photo.removed_at = act.at
    session.add(photo)
    for finding in session.exec(
        select(Finding).where(Finding.id == photo.finding_id, Finding.photo == photo.file)
    ):
        finding.photo = ""
        session.add(finding)
    after = {"file": photo.file, "reason": reason}
    said = (f"Photo taken off: {photo.file}.", KEPT)
    return Change("photo", cmd.photo_id, photo.card_id, after=after, said=said)
