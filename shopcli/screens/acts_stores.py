"""The keys of the stores: five pages with a field that narrows, so every act is a function key there."""

from shopcli.screens.act import Act

PAGES = ("shelf", "needs", "purchases", "outwork", "exchanges")


def _page(name: str, *acts: Act) -> tuple[Act, ...]:
    """Return the keys of a page and those all five share."""
    return (
        *acts,
        Act(
            f"{name}.undo",
            "f11,ctrl+l",
            "Undo",
            "Take back what you did last on the stores; says first what that undoes.",
        ),
        Act(
            f"{name}.next_page",
            "tab",
            "Next page",
            "Go on: shelf, to order, orders, outwork, exchanges.",
            priority=True,
        ),
        Act(
            f"{name}.previous_page",
            "shift+tab",
            "Page before",
            "Go back a page.",
            footer=False,
            priority=True,
        ),
        Act(f"{name}.back", "escape", "Back", "Clear what was typed, or go back."),
        Act(f"{name}.down", "down", "Down", "Choose the next row.", footer=False),
        Act(f"{name}.up", "up", "Up", "Choose the row before.", footer=False),
        Act(f"{name}.page_down", "pagedown", "Further on", "Go a screenful further on.", footer=False),
        Act(f"{name}.page_up", "pageup", "Back a screenful", "Go a screenful back.", footer=False),
    )


STORES: tuple[Act, ...] = (
    *_page(
        "shelf",
        Act(
            "shelf.open",
            "enter",
            "History",
            "Show the movements and the prices of the chosen part.",
            priority=True,
        ),
        Act("shelf.new", "f2", "New part", "Write a part down."),
        Act("shelf.count", "f3", "Count", "Write down how many of the chosen part lie there, counted."),
        Act("shelf.change", "f4", "Change", "Change bin, supplier, reorder point, pack, cost, price, name."),
        Act("shelf.order", "f9", "Order", "Put the chosen part on an order, though nothing asks for it."),
        Act(
            "shelf.other",
            "f12,ctrl+r",
            "Gone, found",
            "It went back to the supplier, broke, was lost or found.",
        ),
    ),
    *_page(
        "needs",
        Act(
            "needs.order", "enter", "Order it", "Put the chosen thing on its supplier's order.", priority=True
        ),
        Act("needs.order_all", "f2", "Order all", "Put all there is from this supplier on one order."),
        Act("needs.elsewhere", "f3", "Elsewhere", "Order the chosen thing from another supplier."),
        Act("needs.supplier", "f4", "Suppliers", "Telephone, account, usual days of a supplier; a new one."),
    ),
    *_page(
        "purchases",
        Act(
            "purchases.goods_in",
            "enter",
            "Goods in",
            "Take the chosen part in: how many came, and at what cost.",
            priority=True,
        ),
        Act(
            "purchases.all_in", "f2", "All in", "Take in all that is still to come of this order, as ordered."
        ),
        Act(
            "purchases.paper",
            "f3",
            "Paper, sent",
            "Show the order to read out, save or copy; say that it is sent.",
        ),
        Act(
            "purchases.change", "f4", "Change", "Change quantity, cost or due date, or take it off the draft."
        ),
        Act(
            "purchases.not_coming",
            "f9",
            "Not coming",
            "The rest of the chosen part is not coming, with the reason.",
        ),
        Act(
            "purchases.cancel", "f12,ctrl+r", "Give up", "Give the whole order up, or what is still to come."
        ),
    ),
    *_page(
        "outwork",
        Act(
            "outwork.came_back",
            "enter",
            "It is back",
            "The chosen work is back: what it cost, and what it is sold for.",
            priority=True,
        ),
        Act(
            "outwork.send", "f2", "Send out", "Send work out: from which card, what, to whom, when it is due."
        ),
        Act("outwork.card", "f3", "To the card", "Open its card at the bench."),
        Act("outwork.change", "f4", "Change", "Change due date, cost, price, or whom to ring."),
    ),
    *_page(
        "exchanges",
        Act(
            "exchanges.step",
            "enter",
            "Next step",
            "The old unit came; it went to the supplier; the credit came.",
            priority=True,
        ),
        Act("exchanges.card", "f3", "To the card", "Open its card at the bench."),
        Act("exchanges.all", "f4", "Settled too", "Show what is settled too, or no longer."),
    ),
    Act("order_paper.save", "f2", "Save", "Save the order as text."),
    Act("order_paper.sent", "f3", "It is sent", "Say that the order went to its supplier."),
    Act("order_paper.copy", "f4", "Copy", "Send the text to the terminal's clipboard."),
    Act("order_paper.back", "escape,q", "Back", "Go back."),
)
