"""The page of what went wrong: cars that came back, readings left out of limits, checks waived, tools past their day."""

from shopcli.papers.week.model import Head, Laid, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.shop.week_views import Comeback, Noticed, QualityView

COMEBACK = (
    "A card opened for a system that an earlier card of the same car was closed for within 90 days and 3,000 miles; 'service' where it "
    "was opened for a service that was due and not for a fault."
)
BACK = ("cars back with a fault", "planned service visits")
NAMED = 6  # plates named in a line, of those that came back
NOTICED = (
    ("limits", "Left out of limits", "On a card closed in the period, the last reading of its kind."),
    ("waived", "Checks and hindrances waived", "Set aside by name and with a reason, in the period."),
    (
        "practice",
        "Practice numbers confirmed",
        "Common practice without a source, confirmed for a car in the period.",
    ),
    ("tools", "Tools past their calibration", "As of now; what they read since is as good as they are."),
)


def quality_page(view: QualityView, pen: Pen) -> Page:
    """Return the page."""
    return Page("quality", "Quality", lambda: _laid(view, pen))


def _laid(view: QualityView, pen: Pen) -> Laid:
    rest = (noticed_sheet(name, title, words, getattr(view, name), pen) for name, title, words in NOTICED)
    return (comebacks_sheet(view, pen), *rest), None


def came_back(view: QualityView) -> tuple[tuple[Comeback, ...], tuple[Comeback, ...]]:
    """Return what came back with a fault, and what came for nothing but a service that was due: each card once."""
    faults = {one.card_id: one for one in view.comebacks if not one.planned}
    service = {one.card_id: one for one in view.comebacks if one.card_id not in faults}
    return tuple(faults.values()), tuple(service.values())


def plates(cars: tuple[Comeback, ...]) -> str:
    """Return the cars by their plates, each once; of many the first, and how many more."""
    names = tuple(dict.fromkeys(one.registration for one in cars))
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return ", ".join(names[:NAMED]) + more


def back_words(view: QualityView) -> str:
    """Return how many came back with a fault and how many for service, by name."""
    said = (
        f"{name}: {len(cars) or 'none'}{f' ({plates(cars)})' if cars else ''}"
        for name, cars in zip(BACK, came_back(view), strict=True)
    )
    words = f"{'; '.join(said)}; cards finished in the period: {view.finished}."
    return f"{words[:1].upper()}{words[1:]}"


def comebacks_sheet(view: QualityView, pen: Pen) -> Sheet:
    """Return the cars that came back."""
    heads = (
        Head("card", "card", right=False, least=6),
        Head("car", "registration", right=False, least=7),
        Head("system", "system", right=False, spare=True, below=True),
        Head("job now", "job", right=False, fills=True, least=16),
        Head("job before", "job_before", right=False, least=16, below=True),
        Head("on", "before", right=False, least=6),
        Head("days", "days"),
        Head("miles", "miles", spare=True),
        Head("why", "why", right=False, least=5),
    )
    lines = []
    for one in view.comebacks:
        key = f"card:{one.card_id}"
        cells = (
            pen.text(one.number, key),
            pen.text(one.registration, key),
            pen.text(one.system),
            pen.text(one.title, key),
            pen.text(one.before_title, f"card:{one.before_id}"),
            pen.text(one.before, f"card:{one.before_id}"),
            pen.days(one.days),
            pen.text("-") if one.miles is None else pen.count(one.miles),
            pen.text("service" if one.planned else "! fault"),
        )
        lines.append(Line(cells))
    words = (COMEBACK, back_words(view))
    return Sheet("comebacks", "Cars that came back", heads, tuple(lines), words, empty="None came back.")


def noticed_sheet(name: str, title: str, words: str, rows: tuple[Noticed, ...], pen: Pen) -> Sheet:
    """Return rows worth a look."""
    heads = (
        Head("card", "card", right=False, least=6),
        Head("car", "registration", right=False, least=7),
        Head("what", "what", right=False, fills=True, least=14),
        Head("how", "detail", right=False, least=20),
        Head("who", "person", right=False, spare=True),
        Head("day", "day", right=False),
    )
    lines = []
    for one in rows:
        key = f"card:{one.card_id}" if one.card_id is not None else name
        texts = (one.card or "-", one.registration or "-", one.what, one.detail, one.person or "-")
        lines.append(Line((*(pen.text(text, key) for text in texts), pen.date(one.on, key))))
    return Sheet(name, title, heads, tuple(lines), (words,), on_paper=10, empty="None.")
