"""Commands of photos: keep one, list them, take one off."""

from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, signed_in, table, task_id_of
from shopcli.errors import BadInput, NotFound
from shopcli.shop.photo_commands import RemovePhoto
from shopcli.shop.views import CardView
from shopcli.store.photos import keep_photo, newest
from shopcli.store.reads.photos import photos as read_photos


def photos(args: Namespace) -> int:
    """List the photos of a card."""
    shop = shop_of(args)
    found = read_photos(shop, card_of(shop, args).id)
    if args.json:
        print_json([{**_plain(p), "path": str(p.path)} for p in found])
        return 0
    rows = [
        (
            p.file,
            p.of or "the car",
            p.caption or "-",
            p.by,
            f"{p.at:%Y-%m-%d %H:%M}",
            "" if p.there else "! gone",
        )
        for p in found
    ]
    print(table(("file", "of", "caption", "by", "when", ""), rows) if rows else "No photo is on this card.")
    if found:
        print(clean(f"They lie in {found[0].path.parent}"))
    return 0


def _plain(photo: object) -> dict[str, object]:
    return {name: getattr(photo, name) for name in photo.__dataclass_fields__ if name != "path"}  # type: ignore[attr-defined]


def _finding_of(card: CardView, text: str) -> int:
    wanted = text.strip().casefold()
    found = [f for f in card.findings if f.what.casefold().startswith(wanted)]
    if len(found) != 1:
        raise NotFound(
            f"which finding is '{text}'?",
            hint="; ".join(f.what for f in card.findings) or "None is on the card.",
        )
    return found[0].id


def photo(args: Namespace) -> int:
    """Keep a photo; without a path the newest of the watched folder."""
    shop = shop_of(args)
    card = card_of(shop, args)
    if args.task and args.finding:
        raise BadInput("of a task or of a finding?", hint="Give --task or --finding.")
    file = args.file
    if not file:
        offered = newest(shop, 1)
        if not offered:
            raise NotFound(
                "no new photo is there", hint="Give its path, or name photo_folder in the settings."
            )
        file = str(offered[0].path)
    done = keep_photo(
        shop,
        Path(file),
        by=signed_in(shop, args).id,
        card_id=card.id,
        number=card.number,
        task_id=task_id_of(card, args.task),
        finding_id=_finding_of(card, args.finding) if args.finding else None,
        caption=args.caption,
    )
    for line in done.said:
        print(clean(line))
    return 0


def remove(args: Namespace) -> int:
    """Take a photo off a card."""
    shop = shop_of(args)
    found = [p for p in read_photos(shop, card_of(shop, args).id) if p.file.startswith(args.file)]
    if len(found) != 1:
        raise NotFound(
            f"which photo is '{args.file[:60]}'?",
            hint="; ".join(p.file for p in found) or "See: shopcli photos CARD",
        )
    act(args, RemovePhoto(found[0].id, args.reason), shop)
    return 0
