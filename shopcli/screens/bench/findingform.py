"""A fault seen, written down in one form: where, what, how bad, what it would take, which job would mend it.

How bad it is stands nowhere before somebody said it; what was typed goes only when it is told to go.
"""

import asyncio
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.columns import cut
from shopcli.errors import BadInput
from shopcli.marks import SEVERITY_MARKS
from shopcli.present import severity, severity_long
from shopcli.screens.careful import Careful
from shopcli.screens.dialogs import Choice, Confirm
from shopcli.screens.widgets.field import Field, Lookup
from shopcli.shop.bench_commands import AddFinding
from shopcli.shop.views import CardView, TaskView
from shopcli.store.reads import offers

if TYPE_CHECKING:
    from shopcli.store.shop import Shop

NO_JOB = Choice("-", "no job", "it stands as it is")
TITLE_MOST = 100
KEYS = "Enter goes on, F2 keeps the finding, Esc goes back"
HOW_BAD = ", ".join(f"{figure} {name}" for figure, name in enumerate(SEVERITY_MARKS, 1))


def read_severity(text: str) -> str:
    """Return how bad something is as typed: its figure, its word or the beginning of it.

    Raises
    ------
    BadInput
        When nothing is said, or it could be either.

    Examples
    --------
    >>> read_severity("1"), read_severity("So"), read_severity("watch")
    ('stop', 'soon', 'watch')
    """
    said = text.strip().casefold()
    names = list(SEVERITY_MARKS)
    fits = [n for figure, n in enumerate(names, 1) if said and (said == str(figure) or n.startswith(said))]
    if len(fits) != 1:
        raise BadInput("how bad it is", hint=f"Type {HOW_BAD}.")
    return fits[0]


def _severity_said(text: str) -> str:
    if not text:
        return HOW_BAD
    bad = read_severity(text)
    return f"{severity(bad)}: {severity_long(bad).partition(': ')[2]}"


def _needed(text: str) -> str:
    if not text:
        raise BadInput("nothing is typed yet", hint="A word or two will do.")
    return ""


class FindingForm(Careful, ModalScreen[AddFinding | None]):
    """Ask all of a finding; answers the act that keeps it, or None."""

    CSS_PATH = "findingform.tcss"
    AUTO_FOCUS = "#finding-what Input"
    TYPES_AHEAD = True
    BINDINGS = [
        Binding("f2,ctrl+s", "keep", "Keep", priority=True),
        Binding("escape", "back", "Back"),
    ]

    def __init__(self, shop: "Shop", view: CardView, task: TaskView | None) -> None:
        super().__init__()
        self._shop = shop
        self._view = view
        self._of_task = task
        self._jobs: Sequence[Choice] = (NO_JOB,)
        self._job = ""
        self.open_questions: set[str] = set()

    def compose(self) -> ComposeResult:
        """Lay out the form from where to which job."""
        task = self._of_task
        with Vertical(classes="dialog"):
            title = f"Seen at: {task.task.title}" if task else "Seen on this card"
            yield Static(Content(cut(title, TITLE_MOST)), classes="dialog-question")
            yield Field(
                "finding-place",
                "Where",
                value=task.task.place if task else "",
                placeholder="for example: front left wheel",
                check=_needed,
            )
            yield Field("finding-what", "What", placeholder="for example: fuel hose perished", check=_needed)
            yield Field("finding-bad", "How bad", check=_severity_said)
            yield Field("finding-takes", "It would take", placeholder="may stay empty")
            yield Lookup("finding-job", "Job to mend it", placeholder="type to find one, or none")
            yield Static(Content(KEYS), classes="dialog-keys")

    def on_mount(self) -> None:
        """Find the jobs that fit the vehicle, behind the form."""
        self.open_questions.add("jobs")
        self.run_worker(self._find_jobs(), exit_on_error=False)

    async def _find_jobs(self) -> None:
        try:
            fitting = await asyncio.to_thread(offers.fitting, self._shop, self._view.vehicle_id)
            self._jobs = (NO_JOB, *(Choice(n, t, s) for n, t, s in fitting))
        finally:
            self.open_questions.discard("jobs")

    def _field(self, name: str) -> Field:
        return self.query_one(f"#finding-{name}", Field)

    @property
    def _typed(self) -> bool:
        return any(field.changed for field in self.query(Field))

    @on(Field.Entered)
    def _go_on(self, event: Field.Entered) -> None:
        event.stop()
        fields = list(self.query(Field))
        at = fields.index(event.field)
        trouble = event.field.trouble()
        if trouble:  # what is typed next would land in the next field
            event.field.say(trouble, wrong=True)
            return
        if at + 1 < len(fields):
            fields[at + 1].input.focus()
        else:
            self.action_keep()

    @on(Lookup.Opened)
    @on(Field.Typed)
    def _offer_jobs(self, event: Lookup.Opened | Field.Typed) -> None:
        event.stop()
        if isinstance(event.field, Lookup):
            words = event.field.text.casefold().split()
            fits = [c for c in self._jobs if all(w in f"{c.label} {c.note}".casefold() for w in words)]
            event.field.offer(fits)

    @on(Lookup.Picked)
    def _job_taken(self, event: Lookup.Picked) -> None:
        event.stop()
        self._job = event.key.removeprefix(NO_JOB.key)
        self.action_keep()

    def action_keep(self) -> None:
        """Give the finding back, unless something of it is still to be said."""
        for name in ("place", "what", "bad"):
            field = self._field(name)
            trouble = field.trouble() or ("" if field.text else f"Type {HOW_BAD}.")
            if trouble:
                field.say(trouble, wrong=True)
                field.input.focus()
                return
        place, what, takes = (self._field(name).text for name in ("place", "what", "takes"))
        bad = read_severity(self._field("bad").text)
        task_id = self._of_task.id if self._of_task else None
        self.dismiss(AddFinding(self._view.id, place, what, bad, takes, task_id, self._job))

    def action_back(self) -> None:
        """Go back; what was typed is asked about first."""
        if not self._typed:
            self.dismiss(None)
            return

        def told(go: bool | None) -> None:
            if go:
                self.dismiss(None)

        self.app.push_screen(
            Confirm("Leave the finding? What is typed here goes.", note="n goes on with it."), told
        )
