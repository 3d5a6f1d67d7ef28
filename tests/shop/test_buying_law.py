"""Laws of the shelf under any run of acts: stock is the sum of its movements, nothing is ordered twice, nothing comes unsaid."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AddToOrder,
    CancelOrder,
    ChangeOrderLine,
    Command,
    CorrectStock,
    CountStock,
    DraftOrder,
    GoodsIn,
    MovePart,
    NotComing,
    OrderShort,
    PartArrived,
    PutPart,
    SendBack,
    SendOrder,
)
from shopcli.shop.needs import Kept, Waiting, need_of, needs, packs
from shopcli.shop.stock import out_of_step
from tests.conftest import Busy
from tests.shop.test_buying import buying, buying_once, do

__all__ = ["buying", "buying_once"]
ACTS = [
    "put",
    "fit",
    "return",
    "order",
    "unused",
    "short",
    "arrived",
    "draft",
    "add",
    "send",
    "in",
    "in",
    "over",
    "off",
    "cancel",
    "not-coming",
    "count",
    "lost",
    "back",
    "undo",
]


def something(busy: Busy, key: str, n: int) -> Command | None:
    fetch, supplier = busy.shop.fetch, busy.more["supplier"]
    parts = [row[0] for row in fetch("SELECT id FROM part ORDER BY id")]
    part = parts[n % len(parts)]
    card_lines = busy.view().parts
    line = card_lines[n % len(card_lines)].id
    order_lines = fetch("SELECT id, version FROM order_line ORDER BY id DESC LIMIT 5") or [(1, 1)]
    order_line, version = order_lines[n % len(order_lines)]
    orders = fetch("SELECT id FROM purchase_order ORDER BY id DESC LIMIT 2") or [(1,)]
    order = orders[n % len(orders)][0]
    last = fetch("SELECT MAX(j.id) FROM journal j WHERE j.undid IS NULL AND j.touched <> ''"
                 " AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)")[0][0]  # fmt: skip
    qty = (1 + n % 7) * 1000
    return {
        "put": PutPart(busy.card, part, qty_milli=qty),
        "fit": MovePart(line, "fitted", serial="1"),
        "return": MovePart(line, "returned"),
        "order": MovePart(line, "on order"),
        "unused": MovePart(line, "not used"),
        "short": OrderShort(busy.card),
        "arrived": PartArrived(line),
        "draft": DraftOrder(supplier, tuple(n.key for n in needs(fetch))),
        "add": AddToOrder(supplier, part, qty),
        "send": SendOrder(order),
        "in": GoodsIn(order_line, qty, 50 + n),
        "over": GoodsIn(order_line, qty, over=True),
        "off": ChangeOrderLine(order_line, version, qty_milli=0),
        "cancel": CancelOrder(order, "why"),
        "not-coming": NotComing(order_line, "why"),
        "count": CountStock(((part, qty),)),
        "lost": CorrectStock(part, -1000, "lost"),
        "back": SendBack(part, 1000, "why", 10, supplier),
        "undo": TakeBack(last),
    }[key]


@given(st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 40)), min_size=4, max_size=14))
@settings(max_examples=25, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_shelf_adds_up_whatever_is_done(buying: Busy, moves: list[tuple[str, int]]) -> None:
    fetch, supplier = buying.shop.fetch, buying.more["supplier"]
    for key, n in moves:
        command = something(buying, key, n)
        before = fetch("SELECT id, qty_milli, in_milli FROM order_line ORDER BY id")
        try:
            do(buying, command)  # type: ignore[arg-type]
        except ShopError:
            assert fetch("SELECT id, qty_milli, in_milli FROM order_line ORDER BY id") == before
            continue
        assert out_of_step(fetch) == (), (key, n)
        more = fetch("SELECT id FROM order_line WHERE in_milli > qty_milli")
        was = {row[0] for row in before if row[2] > row[1]}
        assert key in {"over", "arrived", "undo"} or {row[0] for row in more} <= was, (
            "more came and nobody said so"
        )
    if found := needs(fetch):
        do(buying, DraftOrder(supplier, tuple(need.key for need in found)))
    assert needs(fetch) == (), "what is on its way is asked for again"


milli = st.integers(0, 20).map(lambda n: n * 500)


def waiting(qty: int, *, asked: bool, ordered: bool) -> Waiting:
    return Waiting(1, 1, "x", qty, "pc", 0, asked, asked and ordered, 1, "J1", "R", "")


lines = st.lists(
    st.builds(waiting, milli.filter(bool), asked=st.booleans(), ordered=st.booleans()), max_size=5
)


@given(lines, st.integers(-4, 20), milli, milli, st.sampled_from([250, 1000, 5000]))
def test_what_is_ordered_is_enough_and_not_a_pack_more(
    wanted: list[Waiting], stock: int, comes: int, reorder: int, pack: int
) -> None:
    part = Kept(1, "n", "x", "pc", stock * 500, reorder, pack, 0, None, "")
    need = need_of(part, wanted, comes)
    qty = need.qty_milli if need else 0
    again = need_of(part, [waiting(w.qty_milli, asked=True, ordered=True) for w in wanted], comes + qty)
    assert again is None, "ordered once it is enough"
    assert qty % pack == 0
    if qty:
        by_hand = sum(w.qty_milli for w in wanted if w.asked and not w.ordered)
        rest = sum(w.qty_milli for w in wanted) - by_hand
        one_less = qty - pack
        short = by_hand + max(0, rest - max(0, part.stock_milli)) > comes + one_less
        low = reorder > 0 and part.stock_milli + comes + one_less - by_hand - rest <= reorder
        assert short or low, "a pack less would do"


@given(milli, st.integers(-20_000, 20_000), st.sampled_from([250, 1000, 5000]))
def test_packs_are_the_fewest(least: int, above: int, pack: int) -> None:
    qty = packs(least, above, pack)
    assert qty >= least
    assert qty > above or qty == 0 > above
    assert qty == 0 or qty - pack < least or qty - pack <= above
