"""The report on paper: one page for five minutes on a Friday, or all of it."""

from collections.abc import Iterator

from shopcli.columns import display_width
from shopcli.papers.blocks import Block, Col, Fields, Heading, Logo, Paper, Para, Picture, Row, Section, Table
from shopcli.papers.week.model import Cell, Line, Report, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.report import period_words
from shopcli.papers.writing import Writing

TOP = 3  # lines of the Monday list that stand out
SAID_MOST = 3  # what goes wrong, a sentence a row
WAITS_MOST = 4
# Rows of one page, as many letters as go into one of them, of small ones and of how a card stands, and what headings, figures, waits and the forecast take of them.
PAGE_ROWS, ROW_LETTERS, SMALL_LETTERS, STANDS_LETTERS, TAKEN = 72, 112, 140, 74, 36
LOGO_ROWS = 7  # what the shop's sign takes of them at its highest
FEWEST_CARDS = 3
FIGURE_MOST = 10  # columns of typewriting a figure is given at least, where it has so many
SIGN = "!"


def paper_pen(w: Writing, tax_word: str = "VAT") -> Pen:
    """Return the pen of papers, in the shop's locale."""
    return Pen(w.money, w.day, w.plain, tax_word)


def week_paper(report: Report, w: Writing, logo: Logo | None = None, *, full: bool = False) -> Paper:
    """Return the paper.

    Parameters
    ----------
    report : Report
        Built with `paper_pen` of the same writing.
    w : Writing
        The shop's locale.
    logo : Logo, optional
        The shop's sign.
    full : bool, optional
        All tables instead of one page.
    """
    facts = (("Days", f"{w.day(report.period.monday)} to {w.day(report.period.last)}"),)
    return Paper(
        title="The week",
        number=period_words(report),
        sender=(report.shop,),
        to=Fields((("Made", report.made),)),
        facts=Fields(facts),
        blocks=tuple(_full(report) if full else _one_page(report, LOGO_ROWS if logo else 0)),
        dated=report.dated,
        dense=not full,
        language=w.language,
        logo=logo,
    )


def _todo(report: Report) -> Iterator[Block]:
    yield Heading("On Monday")
    if not report.todo:
        yield Para("Nothing stands out.")
    for nth, line in enumerate(report.todo, 1):
        yield Para(line.cells[-1].said, mark=f"{nth}.", strong=nth <= TOP)
        if line.note:
            yield Para(line.note, mark=" ", small=True)


def _one_page(report: Report, sign_rows: int) -> Iterator[Block]:
    yield from _todo(report)
    figures = _sheet(report, "figures")
    if figures is not None:
        yield from _table(figures, len(figures.lines), words=False)
        yield from (Para(text, small=True) for text in _foot(figures))
    said = tuple(_said(report))
    cards, waits = _sheet(report, "cards"), _sheet(report, "waits")
    if cards is not None and cards.lines:
        yield from _table(cards, _cards_that_fit(report, cards, said, sign_rows), words=False, notes=False)
    if waits is not None and waits.lines:
        yield from _table(waits, WAITS_MOST, words=False)
    if said:
        yield Heading("What we keep getting wrong")
        yield from (Para(text, mark="-") for text in said)
    ahead = _sheet(report, "queue")
    if ahead is not None:
        yield Heading(ahead.title)
        text = "; ".join(f"{line.cells[0].said}: {line.cells[1].said}" for line in ahead.lines)
        yield Para(f"{text[:1].upper()}{text[1:]}.", strong=True)
        yield from (Para(text, small=True) for text in ahead.words[:2])


def _foot(figures: Sheet) -> tuple[str, ...]:
    """Return what is said below the figures of one page: the last of their words, what the parts of the hours are."""
    return figures.words[-1:]


def _rows(text: str, letters: int = ROW_LETTERS) -> int:
    return -(-len(text) // letters) if text else 0


def _cards_that_fit(report: Report, cards: Sheet, said: tuple[str, ...], sign_rows: int) -> int:
    """Return how many cards go on the page beside the list and what is said: the paper is to stay one page."""
    left = PAGE_ROWS - TAKEN - sign_rows - sum(map(_rows, said))
    left -= sum(_rows(line.cells[-1].said) + _rows(line.note) for line in report.todo)
    figures = _sheet(report, "figures")
    if figures is not None:
        small = (*_foot(figures), *(line.note for line in figures.lines))
        left -= sum(_rows(text, SMALL_LETTERS) for text in small)
    place = next(n for n, head in enumerate(cards.heads) if head.fills)
    fit = 0
    for line in cards.lines:
        left -= _rows(line.cells[place].said, STANDS_LETTERS) or 1
        if left < 0:
            break
        fit += 1
    return max(fit, FEWEST_CARDS)


def _said(report: Report) -> Iterator[str]:
    """Yield what went wrong, a sentence a row, the worst of each kind."""
    for line in _worth(report, "earns"):
        job, cards, margin = (line.cells[n].said for n in (0, 1, 6))
        yield f"Loses money: {job} ({cards} of the cards billed), margin {margin}."
    for line in _worth(report, "times"):
        job, cases, middle, what = (line.cells[n].said for n in (0, 1, 3, 7))
        yield f"{job}: takes {middle} times what is listed ({cases} cases); list it {what.removeprefix(SIGN).strip()}."
    comebacks = _sheet(report, "comebacks")
    faults = (
        () if comebacks is None else tuple(x for x in comebacks.lines if x.cells[-1].said.startswith(SIGN))
    )
    for line in faults[:SAID_MOST]:
        card, car, system, now, before, number, days = (cell.said for cell in line.cells[:7])
        yield f"Came back: {car}, {system}: {now} ({card}), {days} days after {before} ({number})."
    unclocked = _sheet(report, "unclocked")
    idle = () if unclocked is None else tuple(x for x in unclocked.lines if _above_nothing(x.cells[-1]))
    if unclocked is not None and idle:
        names = ", ".join(f"{line.cells[0].said} {line.cells[-1].said}" for line in idle)
        yield f"{unclocked.title} {_when(report)}: {names}."


def _above_nothing(cell: Cell) -> bool:
    return isinstance(cell.value, int) and cell.value > 0


def _when(report: Report) -> str:
    """Return the period as it is spoken of on the day of the report."""
    period = report.period
    this = period.weeks == 1 and period.monday <= report.dated <= period.last
    return "this week" if this else "in the period"


def _worth(report: Report, name: str) -> tuple[Line, ...]:
    """Return the lines of a table that say of themselves that something is to be done."""
    sheet = _sheet(report, name)
    lines = () if sheet is None else sheet.lines
    return tuple(line for line in lines if line.cells[-1].said.startswith(SIGN))[:SAID_MOST]


def _full(report: Report) -> Iterator[Block]:
    yield from _todo(report)
    for page in report.pages:
        for sheet in page.sheets:
            if sheet.name != "todo":
                yield from _table(sheet, sheet.on_paper)
                if sheet.chart is not None and sheet.chart.there:
                    yield Picture(sheet.chart)


def _sheet(report: Report, name: str) -> Sheet | None:
    return next((sheet for sheet in report.sheets if sheet.name == name), None)


def _table(sheet: Sheet, most: int, *, words: bool = True, notes: bool = True) -> Iterator[Block]:
    yield Heading(sheet.title)
    if words:
        yield from (Para(text, small=True) for text in sheet.words)
    if not sheet.lines:
        yield Para(sheet.empty)
        return
    there = [n for n, head in enumerate(sheet.heads) if not head.below]
    columns = tuple(_col(sheet, n) for n in there)
    rows = tuple(_row(sheet, line, notes=notes) for line in sheet.lines[:most])
    yield Table(columns, (Section("", rows),))
    left = len(sheet.lines) - most
    if left > 0:
        yield Para(f"{left} more.", small=True)


def _col(sheet: Sheet, place: int) -> Col:
    """Return a column. A blank more stands before a head at the right, or neighbours would read as one; figures are not broken."""
    head = sheet.heads[place]
    widest = max((display_width(line.cells[place].said) for line in sheet.lines), default=0)
    return Col(
        f" {head.name}" if head.right and head.name else head.name,
        right=head.right,
        fills=head.fills,
        most=26,
        least=min(widest, FIGURE_MOST) if head.right else min(head.least, 6),
    )


def _row(sheet: Sheet, line: Line, *, notes: bool) -> Row:
    pairs = tuple(zip(sheet.heads, line.cells, strict=True))
    below = (*(f"{head.name}: {cell.said}" for head, cell in pairs if head.below), line.note)
    return Row(
        tuple(cell.said for head, cell in pairs if not head.below),
        below=tuple(filter(None, below)) if notes else (),
        strong=line.strong,
    )
