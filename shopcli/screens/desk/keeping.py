"""The part of the intake form that loses nothing: what is typed is kept as it is typed, and offered again.

The telephone rings, somebody presses Esc, the program is killed: the form is there, with the operation its card is
opened under, so that a card that was opened in the last moment is not opened twice.
"""

import uuid

from textual import on
from textual.content import Content
from textual.widgets import Static

from shopcli.columns import cut
from shopcli.present import clock_time, day
from shopcli.screens.desk.choosing import Choosing
from shopcli.screens.desk.draft import Draft
from shopcli.screens.dialogs import Choice, Confirm, Pick
from shopcli.screens.kept_forms import FormKeeper, KeptForm
from shopcli.screens.widgets.field import Field, Lookup

NAME_MOST = 60


class Keeping(Choosing):
    """Base of the intake form that keeps it."""

    def __init__(self) -> None:
        super().__init__()
        self._draft.op = uuid.uuid4().hex
        self._begun = 0
        self._keeper: FormKeeper | None = None

    def ask_ahead(self) -> None:
        """See what the jobs would cost and when they could be ready."""
        raise NotImplementedError

    @property
    def keeper(self) -> FormKeeper:
        """Where the forms of these records are kept."""
        if self._keeper is None:
            place = self.desk_app.shop.place
            self._keeper = FormKeeper(str(place.file.absolute()) if place.file else place.dsn)
        return self._keeper

    @property
    def is_empty(self) -> bool:
        """Whether nothing was typed or chosen."""
        typed = any(field.changed for field in self.query(Field))
        return not (typed or self._draft.jobs or self._draft.decided)

    @on(Field.Typed)
    @on(Field.Entered)
    @on(Lookup.Picked)
    def keep_later(self) -> None:
        """Keep the form once what was typed has been taken in."""
        self.call_later(self.keep)

    def keep(self) -> None:
        """Keep the form as it stands; an empty one is not kept."""
        if not self.is_mounted:
            return
        self._draft.texts = {field.key: field.text for field in self.query(Field)}
        if self.is_empty:
            self.keeper.throw_away(self._draft.op)
            return
        self._begun = self._begun or self.desk_app.shop.at()
        names = [self._draft.text(key) for key in ("customer", "vehicle")]
        name = ", ".join(filter(None, names)) or "no name yet"
        self.keeper.keep(KeptForm(self._draft.op, self._begun, name, self._draft.to_kept()))

    def say_kept(self) -> None:
        """Say on top that forms are kept, and the key that takes one up."""
        forms, line = self.keeper.kept(), self.query_one("#kept", Static)
        line.display = bool(forms)
        if forms:
            more = f" and {len(forms) - 1} more" if len(forms) > 1 else ""
            line.update(Content(f"! Kept: {self._called(forms[0])}{more}. F9 takes it up."))

    def _called(self, form: KeptForm) -> str:
        begun = self.desk_app.shop.local(form.begun)
        zone = self.desk_app.shop.settings.tz()
        return f"{cut(form.name, NAME_MOST)}, {day(begun.date())} {clock_time(begun, zone)}"

    def action_kept(self) -> None:
        """Take up a kept form; the one that is open is kept instead."""
        forms = self.keeper.kept()
        if not forms:
            self.tell("No other form is kept.")
        elif len(forms) == 1:
            self._take_up(forms[0].op)
        else:
            choices = [Choice(form.op, self._called(form)) for form in forms]
            question = Pick("Which form?", choices)
            self.app.push_screen(question, lambda op: self._take_up(op) if op else None)

    def _take_up(self, op: str) -> None:
        form = self.keeper.take_up(op)
        if form is None:
            self.tell("Another terminal has that form by now.")
            self.say_kept()
            return
        self.keep()
        self.keeper.release(self._draft.op)
        self._begun, self._draft = form.begun, Draft.from_kept(op, form.holds)
        self._vehicle, self._told, self._asked_about = None, None, frozenset()
        for field in self.query(Field):
            field.restore(self._draft.texts.get(field.key, ""))
        for key, new in (("customer", self._draft.new_customer), ("vehicle", self._draft.new_vehicle)):
            self._field(key).say(f"new {key}" if new else "")
        if self._draft.vehicle_id is not None:
            self.look_at_story(self._draft.vehicle_id)
        self._ask("jobs", "")
        self.lay_out()
        self.say_kept()
        self.ask_ahead()
        # Where the vehicle is known the form goes on below it: what is offered above would lie over what it brings.
        self._field("customer" if self._draft.vehicle_id is None else "odometer").input.focus()

    def action_throw_away(self) -> None:
        """Throw the form away when that is meant; no card was opened."""
        if self.is_empty:
            self.action_back()
            return
        question = Confirm("Throw away what is typed?", note="No card was opened. Esc keeps it for later.")
        self.app.push_screen(question, lambda yes: self._thrown_away() if yes else None)

    def _thrown_away(self) -> None:
        self.keeper.throw_away(self._draft.op)
        self.dismiss(None)

    def action_back(self) -> None:
        """Go back; what was typed is kept and offered again."""
        self.keep()
        if not self.is_empty:
            self.tell("The form is kept. F2, then F9 goes on with it.")
        self.dismiss(None)

    def on_unmount(self) -> None:
        """Leave the form for whoever goes on with it."""
        self.keeper.release(self._draft.op)
