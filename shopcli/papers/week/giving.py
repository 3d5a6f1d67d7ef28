"""The report given away: as a paper in a form, and as files in the folder of the shop's papers."""

import io
import json
from pathlib import Path

from shopcli.errors import StoreTrouble
from shopcli.papers.filing import free_path, paper_name, papers_folder, write_new
from shopcli.papers.of_records import Ready, in_form
from shopcli.papers.week.export import report_data, sheet_csv
from shopcli.papers.week.model import Report
from shopcli.papers.week.paper import paper_pen, week_paper
from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.reading import see
from shopcli.papers.week.report import period_words, report_of
from shopcli.shop.week_period import Period
from shopcli.store.shop import Shop


def ready_week(shop: Shop, period: Period, role: str, *, full: bool = False) -> Ready:
    """Return the paper of a period as somebody of that role may see it, on one page or whole."""
    seen = see(shop, period, role)
    return Ready(
        lambda w, logo: week_paper(report_of(seen, paper_pen(w, shop.settings.tax_word)), w, logo, full=full),
        shop.settings.currency,
    )


def report_for(shop: Shop, period: Period, role: str) -> Report:
    """Return the report with figures as they are exported."""
    return report_of(
        see(shop, period, role),
        screen_pen(shop.settings.currency, plain=True, tax_word=shop.settings.tax_word),
    )


def as_json(report: Report) -> str:
    """Return the whole report as a JSON text."""
    return json.dumps(report_data(report), ensure_ascii=False, indent=2) + "\n"


def _folder(shop: Shop) -> Path:
    folder = papers_folder(shop)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = error.strerror or str(error)
        raise StoreTrouble(f"{folder} cannot be made: {reason}", hint="Choose another folder.") from error
    return folder


def _name(report: Report) -> str:
    return period_words(report).replace(" ", "-")


def write_paper(shop: Shop, period: Period, role: str) -> Path:
    """Write the one-page report as PDF and return where it is.

    Raises
    ------
    StoreTrouble
        When it cannot be written.
    """
    _name, content = paper_file(shop, period, role)
    return write_new(free_path(_folder(shop), _weeks(period), ".pdf", "report"), content)


def paper_file(shop: Shop, period: Period, role: str) -> tuple[str, bytes]:
    """Return what the one-page report is called, and the report as PDF."""
    content = in_form(shop, ready_week(shop, period, role), "pdf").content
    return paper_name(_weeks(period), ".pdf", "report"), content


def _weeks(period: Period) -> str:
    return "-to-".join(dict.fromkeys((period.names[0], period.names[-1])))


def write_tables(report: Report, folder: Path) -> tuple[Path, ...]:
    """Write every table as CSV and all of it as JSON, and return where they are.

    Raises
    ------
    StoreTrouble
        When they cannot be written.
    """
    name = _name(report)
    return tuple(
        write_new(free_path(folder, name, ending, what), text) for what, ending, text in _tables(report)
    )


def _tables(report: Report) -> tuple[tuple[str, str, str], ...]:
    """Return every table as CSV and all of it as JSON: what it is, the ending, the text."""
    return (*((s.name, ".csv", sheet_csv(s)) for s in report.sheets), ("report", ".json", as_json(report)))


def tables_file(shop: Shop, period: Period, role: str) -> tuple[str, bytes]:
    """Return what the tables of a period are called as one file, and that file: a ZIP with each as CSV and all as JSON."""
    import zipfile

    report, packed = report_for(shop, period, role), io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as into:
        for what, ending, text in _tables(report):
            into.writestr(paper_name(_name(report), ending, what), text)
    return paper_name(_name(report), ".zip", "tables"), packed.getvalue()


def export(shop: Shop, period: Period, role: str) -> tuple[Path, ...]:
    """Write every table of a period into the folder of the shop's papers."""
    return write_tables(report_for(shop, period, role), _folder(shop))
