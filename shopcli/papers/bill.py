"""A bill as text, as a page and as PDF."""

from shopcli.papers.as_html import paper_html
from shopcli.papers.as_pdf import Set, paper_pdf
from shopcli.papers.as_text import paper_text
from shopcli.papers.bill_paper import bill_paper
from shopcli.papers.blocks import Logo
from shopcli.papers.layout import WIDTH
from shopcli.papers.writing import USUAL_LOCALE, Writing
from shopcli.shop.bill import Bill


def bill_text(bill: Bill, *, locale: str = USUAL_LOCALE, width: int = WIDTH, plain: bool = False) -> str:
    """Return a bill as plain text.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    BadInput
        If the page is too narrow or too wide, or there is no such locale.
    """
    w = Writing(bill.currency, locale, plain)
    return paper_text(bill_paper(bill, w), width=width, point=w.point)


def bill_html(bill: Bill, *, locale: str = USUAL_LOCALE, logo: Logo | None = None) -> str:
    """Return a bill as one HTML page.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    """
    return paper_html(bill_paper(bill, Writing(bill.currency, locale), logo))


def bill_pdf(bill: Bill, *, locale: str = USUAL_LOCALE, logo: Logo | None = None) -> Set:
    """Return a bill as PDF/A-3b.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    StoreTrouble
        If it cannot be set.
    """
    w = Writing(bill.currency, locale)
    return paper_pdf(bill_paper(bill, w, logo), point=w.point)
