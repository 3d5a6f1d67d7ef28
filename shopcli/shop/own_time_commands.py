"""What may be asked about the shop's own expected times, as plain frozen data."""

from dataclasses import dataclass
from typing import ClassVar

from shopcli.shop.command import Command


@dataclass(frozen=True, slots=True)
class SetOwnTime(Command):
    """List a job at so many thousandths of what its template says; 1000 goes back to the template.

    `before` is the factor that was on the screen, `cases` how many jobs it rests on. Cards there already stay as they are.
    """

    rule: ClassVar[str] = "own_times:set_own_time"
    knows: ClassVar[bool] = True
    template: str
    per_mille: int
    before: int | None = None
    cases: int = 0
    why: str = ""
