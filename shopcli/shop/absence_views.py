"""What is seen of days somebody was not here."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class AbsenceView:
    """An absence: both days counted, `minutes` of each, None for whole days."""

    id: int
    person_id: int
    person: str
    first: date
    last: date
    minutes: int | None
    why: str
    noted_by: str
