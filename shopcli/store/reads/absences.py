"""Days somebody was not here, the latest first."""

from datetime import date

from shopcli.shop.absence_views import AbsenceView
from shopcli.store.shop import Shop

ABSENCES = """
SELECT a.id, a.person_id, p.name, a.first, a.last, a.minutes, a.why, n.name FROM absence a
JOIN person p ON p.id = a.person_id JOIN person n ON n.id = a.noted_by
WHERE a.withdrawn_at IS NULL AND a.last >= ? ORDER BY a.first DESC, a.id DESC"""


def absences(shop: Shop, since: date = date.min) -> tuple[AbsenceView, ...]:
    """Return the absences that stand, those over before a day left out."""
    return tuple(
        AbsenceView(*row[:3], date.fromisoformat(row[3]), date.fromisoformat(row[4]), *row[5:])
        for row in shop.fetch(ABSENCES, (since.isoformat(),))
    )
