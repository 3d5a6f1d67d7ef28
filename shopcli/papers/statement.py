"""A statement of a customer's account: what stood open, what came, what went, what stands open now and how old it is."""

from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.papers.blocks import Block, Col, Fields, Heading, Logo, Paper, Para, Row, Section, Sums, Table
from shopcli.papers.parties import addressed, iban_grouped, sender
from shopcli.papers.writing import Writing
from shopcli.present import amount
from shopcli.shop.paper_views import StatementLine, StatementView


def statement_paper(view: StatementView, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of a statement.

    Raises
    ------
    DoesNotAddUp
        If the balances do not follow from one another.
    """
    check_statement(view)
    return Paper(
        title="Statement",
        number=f"{w.day(view.first)} to {w.day(view.last)}",
        sender=sender(view.seller),
        to=addressed(view.buyer),
        facts=Fields((("Date", w.day_long(view.made)), ("Currency", view.currency))),
        blocks=(_table(view, w), *_ages(view, w), Sums((_last(view, w),)), *_paying(view)),
        dated=view.made,
        language=w.language,
        logo=logo,
    )


def check_statement(view: StatementView) -> None:
    """Refuse a statement whose balances do not follow from one another.

    Raises
    ------
    DoesNotAddUp
        Naming the first that does not.
    """
    balance, wrong = view.opening, []
    for line in view.lines:
        balance += line.charged - line.credited
        if balance != line.balance:
            wrong.append(
                f"after {line.document} the balance is {amount(balance)}, not {amount(line.balance)}"
            )
    if balance != view.closing:
        wrong.append(f"the closing balance is {amount(balance)}, not {amount(view.closing)}")
    if wrong:
        raise DoesNotAddUp(f"statement of {view.buyer.name}: " + "; ".join(wrong[:3]), hint="Do not send it.")


def _table(view: StatementView, w: Writing) -> Table:
    columns = (
        Col("Date", least=11),
        Col("Document", most=16),
        Col("", fills=True),
        Col("Charged", right=True, least=10),
        Col("Credited", right=True, least=10),
        Col("Balance", right=True, least=10),
    )
    opening = Row((w.day(view.first), "", "Opening balance", "", "", w.amount(view.opening)))
    closing = Row((w.day(view.last), "", "Closing balance", "", "", w.amount(view.closing)), strong=True)
    return Table(columns, (Section("", (opening, *(_row(x, w) for x in view.lines), closing)),))


def _row(x: StatementLine, w: Writing) -> Row:
    charged, credited = (w.amount(d) if d else "" for d in (x.charged, x.credited))
    return Row((w.day(x.on), x.document, x.what, charged, credited, w.amount(x.balance)))


def _ages(view: StatementView, w: Writing) -> tuple[Block, ...]:
    if not view.ages:
        return ()
    columns = (Col(f"Issued before {w.day_long(view.made)}", fills=True), Col("Open", right=True, least=10))
    rows = tuple(Row((band.words, w.amount(band.amount))) for band in view.ages)
    # Not the closing balance: a deposit on work in hand is on the account and on no invoice yet.
    return (Heading("Open invoices by age"), Table(columns, (Section("", rows),), keep=True))


def _last(view: StatementView, w: Writing) -> tuple[str, str]:
    name = "In your favour" if view.closing < 0 else "Open"
    return name, w.money(abs(view.closing))


def _paying(view: StatementView) -> list[Block]:
    if view.closing <= 0:
        return []
    bank = (
        ("Account", view.account_name or view.seller.name),
        ("IBAN", iban_grouped(view.iban)),
        ("BIC", view.bic),
    )
    said = [Para(view.terms)] if view.terms else []
    blocks: list[Block] = [*said, *((Fields(bank),) if view.iban else ())]
    return [Heading("How to pay"), *blocks] if blocks else []
