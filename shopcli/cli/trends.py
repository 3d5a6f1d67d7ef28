"""A reading over the years from the shell: every visit, and where it is going."""

from argparse import Namespace

from shopcli.cli.common import clean, print_json, shop_of, table, vehicle_known
from shopcli.errors import NotFound
from shopcli.marks import STANDING_MARKS
from shopcli.present import odometer
from shopcli.screens.bench.trendwords import ARROWS, value_words, warning_words, way_words
from shopcli.shop.earlier import EarlierView
from shopcli.store.reads import bench
from shopcli.store.reads.trends import TrendView, trends
from shopcli.store.shop import Shop


def show(args: Namespace) -> int:
    """Print the visits of the readings that are meant."""
    shop = shop_of(args)
    vehicle_id, registration, unit, card_id = _meant(shop, args.where)
    found = trends(shop, vehicle_id, " ".join(args.name).split(), card_id)
    if args.json:
        print_json(found)
        return 0
    if not found:
        _refuse(shop, vehicle_id, registration, args.name)
    for number, view in enumerate(found):
        print("\n" * bool(number) + clean(_heading(view)))
        rows = [
            (f"{one.at:%Y-%m-%d}", one.card, odometer(one.odometer, unit), _said(one, view.unit))
            for one in view.visits
        ]
        print(table(("read", "card", "odometer", "as typed"), rows, right=(2,)))
        for line in _going(view):
            print(clean(line))
    return 0


def _meant(shop: Shop, wanted: str) -> tuple[int, str, str, int | None]:
    """Return the vehicle, its registration, the unit of its odometer, and the card when one is meant."""
    known = vehicle_known(shop, wanted)
    if known is not None:
        return known.id, known.registration, known.distance_unit, None
    card = bench.card(shop, bench.card_id(shop, wanted))
    return card.vehicle_id, card.registration, card.distance_unit, card.id


def _refuse(shop: Shop, vehicle_id: int, registration: str, words: list[str]) -> None:
    names = sorted({view.name for view in trends(shop, vehicle_id)})
    hint = f"Read so far: {', '.join(names)}." if names else "Nothing was read on it yet."
    wanted = " ".join(words)[:60]
    raise NotFound(
        f"no reading '{wanted}' was taken on {registration}" if wanted else "no reading was taken", hint=hint
    )


def _heading(view: TrendView) -> str:
    return ", ".join(filter(None, (view.name, view.label, view.phase)))


def _said(one: EarlierView, unit: str) -> str:
    sign = STANDING_MARKS.get(one.standing, STANDING_MARKS[""]).sign
    return f"{value_words(one, unit) if unit else one.typed} {sign}"


def _going(view: TrendView) -> list[str]:
    if view.trend is None:
        return ["one visit: nothing to compare"]
    words = f"{ARROWS[view.trend.way]} {way_words(view.trend, view.name, view.unit)}"
    warning = warning_words(view.trend, view.name)
    return [words, f"! {warning}"] if warning else [words]
