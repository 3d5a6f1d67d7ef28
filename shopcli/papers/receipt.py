"""A receipt: one payment in writing."""

from shopcli.papers.blocks import Block, Fields, Logo, Paper, Para, Sums
from shopcli.papers.parties import addressed, sender
from shopcli.papers.writing import Writing
from shopcli.shop.paper_views import ReceiptView


def receipt_paper(view: ReceiptView, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of a payment taken, or given back."""
    back = view.amount < 0
    return Paper(
        title="Receipt",
        number=view.number,
        sender=sender(view.seller),
        to=addressed(view.payer, name="Given to" if back else "Received from"),
        facts=Fields(
            (
                ("Date", w.day_long(view.on)),
                ("For", view.towards),
                ("Vehicle", view.vehicle),
                ("Paid by", view.method),
                ("Handled by", view.taken_by),
            )
        ),
        blocks=tuple(_blocks(view, w)),
        dated=view.on,
        language=w.language,
        logo=logo,
    )


def _blocks(view: ReceiptView, w: Writing) -> list[Block]:
    sum_ = w.money(abs(view.amount))
    words = (
        f"We gave back {sum_}."
        if view.amount < 0
        else f"We received {sum_} as {_kind(view.kind)}, with thanks."
    )
    blocks: list[Block] = [Para(words, strong=True)]
    if view.note:
        blocks.append(Para(view.note))
    if view.total is not None and view.paid_before is not None and view.left is not None:
        rows = [("Total", view.total), ("Credited", -view.credited), ("Paid before", -view.paid_before)]
        rows = [row for row in rows if row[1] or row[0] == "Total"] + [("This payment", -view.amount)]
        left = ("In your favour", -view.left) if view.left < 0 else ("Left to pay", view.left)
        blocks.append(Sums(tuple((name, w.money(d)) for name, d in [*rows, left])))
    return blocks


def _kind(kind: str) -> str:
    return f"a {kind}" if kind and kind[0] not in "aeiou" else f"an {kind}" if kind else "a payment"
