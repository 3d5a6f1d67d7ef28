"""An order to a supplier as a paper: what is wanted, how many, when, under which account; costs are what we expect."""

from shopcli.papers.blocks import Block, Col, Fields, Logo, Paper, Para, Row, Section, Sums, Table
from shopcli.papers.parties import sender
from shopcli.papers.writing import Writing
from shopcli.shop.bill import Party
from shopcli.shop.stores_views import OrderLineView, PurchaseView, SupplierView
from shopcli.shop.taxwords import without_tax


def purchase_paper(
    view: PurchaseView, seller: Party, w: Writing, logo: Logo | None = None, *, tax_word: str = "VAT"
) -> Paper:
    """Return the paper of an order; `seller` is the shop, which buys here."""
    on = (view.sent or view.made).date()
    drafted = " (draft)" if view.state == "drafted" else ""
    return Paper(
        title=f"Order{drafted}",
        number=view.number,
        sender=sender(seller, tax_word),
        to=_supplier(view.supplier),
        facts=Fields(
            (
                ("Date", w.day_long(on)),
                ("Wanted by", w.day_long(view.due)),
                ("Our account", view.supplier.account),
                ("Ordered by", view.made_by),
            )
        ),
        blocks=tuple(_blocks(view, w, tax_word)),
        dated=on,
        language=w.language,
        logo=logo,
    )


def _supplier(supplier: SupplierView) -> Fields:
    return Fields((("To", supplier.name), ("Telephone", supplier.phone), ("E-mail", supplier.email)))


def _blocks(view: PurchaseView, w: Writing, tax_word: str) -> list[Block]:
    columns = (
        Col("Number", most=18),
        Col("What", fills=True),
        Col("How many", right=True, least=8),
        Col("Unit", most=8),
        Col("Cost of one", right=True, least=11),
    )
    lines = [line for line in view.lines if line.rest or line.came]
    blocks: list[Block] = [Table(columns, (Section("", tuple(_row(line, w) for line in lines)),))]
    if any(line.cost for line in lines):
        blocks.append(Sums(((f"Expected, {without_tax(tax_word)}", w.money(view.worth)),)))
    if view.note:
        blocks.append(Para(view.note))
    return blocks


def _row(line: OrderLineView, w: Writing) -> Row:
    cost = w.price(line.cost) if line.cost else ""
    below = (f"wanted by {w.day(line.due)}",) if line.due else ()
    return Row((line.number, line.name, w.qty(line.qty), line.unit, cost), below)
