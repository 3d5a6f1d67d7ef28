"""From a builder of papers to a file: text, a page or a PDF, the same way for every paper made of blocks."""

from collections.abc import Callable

from shopcli.errors import BadInput
from shopcli.papers.as_html import paper_html
from shopcli.papers.as_pdf import Set, paper_pdf
from shopcli.papers.as_text import paper_text
from shopcli.papers.blocks import Logo, Paper
from shopcli.papers.layout import WIDTH
from shopcli.papers.writing import USUAL_LOCALE, Writing

FORMS = ("text", "html", "pdf")
Build = Callable[[Writing, Logo | None], Paper]


def written(
    build: Build,
    form: str,
    *,
    currency: str,
    locale: str = USUAL_LOCALE,
    logo: Logo | None = None,
    width: int = WIDTH,
    plain: bool = False,
) -> Set:
    """Return a paper in one of the `FORMS` as a file's content.

    Parameters
    ----------
    build : callable
        Makes the paper with the writer of figures and the logo it is given.
    form : str
        ``text``, ``html`` or ``pdf``.
    currency : str
        ISO 4217 code.
    locale : str, optional
        Of figures and dates.
    logo : Logo, optional
        Not set in text.
    width : int, optional
        Of text, [columns]
    plain : bool, optional
        Only ASCII signs in text, but for names.

    Raises
    ------
    BadInput
        If there is no such form, locale or width.
    DoesNotAddUp
        If the figures contradict one another.
    """
    w = Writing(currency, locale, plain and form == "text")
    match form:
        case "text":
            return Set(paper_text(build(w, None), width=width, point=w.point).encode("utf-8"))
        case "html":
            return Set(paper_html(build(w, logo)).encode("utf-8"))
        case "pdf":
            return paper_pdf(build(w, logo), point=w.point)
    raise BadInput(f"no paper has the form '{form}'", hint="Choose " + ", ".join(FORMS) + ".")
