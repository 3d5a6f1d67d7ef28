"""A bill as Factur-X: the PDF people read with the same bill inside as CII for machines.

The page is set as PDF/A-3b first, then the document is put in once; attached it is an alternative of what
the page says (ISO 32000-2, 14.13). The library that does it is loaded with the first such bill.
"""

from shopcli.papers.as_pdf import Set
from shopcli.papers.bill import bill_pdf
from shopcli.papers.blocks import Logo
from shopcli.papers.einvoice_cii import bill_cii
from shopcli.papers.writing import USUAL_LOCALE, locale_named
from shopcli.shop.bill import Bill


def bill_facturx(bill: Bill, *, locale: str = USUAL_LOCALE, logo: Logo | None = None) -> Set:
    """Return a bill as PDF/A-3b with its CII inside.

    Raises
    ------
    NotComplete
        If the standard asks for something the bill does not have.
    DoesNotAddUp
        If the figures contradict one another.
    StoreTrouble
        If it cannot be set.
    """
    from facturx import generate_from_binary

    xml = bill_cii(bill)
    page = bill_pdf(bill, locale=locale, logo=logo)
    title = f"{bill.kind.capitalize()} {bill.number}"
    about = {
        "author": bill.seller.name,
        "keywords": "Factur-X, EN 16931",
        "title": title,
        "subject": f"{title} of {bill.issued.isoformat()}, {bill.seller.name}",
    }
    content = generate_from_binary(
        page.content,
        xml,
        flavor="factur-x",
        level="en16931",
        check_xsd=True,
        check_schematron=False,  # it would ask a server that is not there
        pdf_metadata=about,
        lang=str(locale_named(locale)).replace("_", "-"),
        afrelationship="alternative",
    )
    return Set(content, page.lacking)
