"""The demo without a terminal: open jobs, one card's work list with its numbers, one finished card's summary."""

from shopcli.papers.render import bench_list_text, open_cards_text, summary_text
from shopcli.store.reads import bench, desk, orders, summary
from shopcli.store.shop import Shop
from shopcli.units import METRIC

RULE = "=" * 80


def print_tour(shop: Shop) -> None:
    """Print the three things the shop shows anybody who asks."""
    rows = desk.open_cards(shop)
    print(f"{RULE}\nOPEN JOBS PER CUSTOMER AND VEHICLE\n{RULE}")
    print(open_cards_text(rows, shop.local(shop.at()).date()))
    busiest = max(
        (r for r in rows if r.state == "in hand"), key=lambda r: (r.tasks_settled > 0, r.tasks), default=None
    )
    if busiest:
        print(f"{RULE}\nONE CARD'S WORK LIST WITH ITS NUMBERS\n{RULE}")
        card = orders.in_order(bench.card(shop, busiest.id), orders.order(shop, busiest.id))
        print(bench_list_text(card, METRIC))
    closed = shop.fetch("SELECT card_id FROM invoice ORDER BY labour_minutes DESC, number LIMIT 1")
    if closed:
        print(f"{RULE}\nINVOICE-READY SUMMARY OF A FINISHED CARD\n{RULE}")
        print(summary_text(summary.summary(shop, closed[0][0])))
