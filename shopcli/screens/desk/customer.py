"""The form of a customer who is known already: who they are, how they are reached, what their invoices want."""

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input

from shopcli.screens.acts import bindings
from shopcli.screens.dialogs import AskText, Confirm
from shopcli.screens.doing import Acting, Carried, Looked, NotCarried
from shopcli.screens.widgets.field import Field
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.erasing_commands import EraseCustomer
from shopcli.shop.people_commands import ChangeCustomer
from shopcli.shop.seen import over
from shopcli.shop.taxwords import is_sales_tax
from shopcli.store.reads.customers import customer_of_card

if TYPE_CHECKING:
    from shopcli.shop.known import CustomerEntry

ENTRY = "customer"
STREETS = 3  # lines of an address; what more there is stands in the last
PLAIN = ("name", "phone", "email", "city", "post_code", "country", "vat_number")


class CustomerScreen(Acting[tuple[str, ...]]):
    """The form; answers what was said when it was written down, or None."""

    CSS_PATH = "customer.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("desk_customer")
    AUTO_FOCUS = "#name Input"
    HELP_STATION = "desk_customer"
    TYPES_AHEAD = True

    def __init__(self, card_id: int) -> None:
        super().__init__()
        self._card_id = card_id
        self._entry: CustomerEntry | None = None
        self._first: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """Lay out the fields as an envelope has them."""
        settings = self.desk_app.shop.settings
        yield TopBar("Customer")
        with VerticalScroll(id="form", can_focus=False):
            yield Field("name", "Name")
            yield Field("phone", "Telephone")
            yield Field("email", "E-mail")
            yield Field("street0", "Address", placeholder="house and street")
            for n in range(1, STREETS):
                yield Field(f"street{n}", "")
            yield Field("city", "Town")
            yield Field("post_code", "Post code")
            yield Field("country", "Country", placeholder=settings.country or "two letters")
            # A sales tax knows no number of the customer's; what is written of one stays.
            number = Field("vat_number", f"{settings.tax_word} number")
            number.display = not is_sales_tax(settings.tax_word)
            yield number
        yield KeyBar("desk_customer", without=("app.desk", "app.sheets"))

    def on_mount(self) -> None:
        """Read behind the form what is written."""
        self.look_at_clock()
        self.look(ENTRY, partial(customer_of_card, self.desk_app.shop, self._card_id))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Fill the form with what is written."""
        if event.what != ENTRY:
            return
        entry: CustomerEntry = event.seen
        self._entry, self._first = entry, _texts(entry)
        for key, text in self._first.items():
            self._field(key).restore(text)
        self._field("name").input.select_all()
        self.query_one(TopBar).say(f"Customer  {entry.name}")

    def _field(self, key: str) -> Field:
        return self.query_one(f"#{key}", Field)

    @property
    def _is_changed(self) -> bool:
        return bool(self._entry) and any(self._field(k).text != t for k, t in self._first.items())

    @on(Field.Entered)
    def go_on(self) -> None:
        """Go to the next field."""
        self.focus_next(Input)

    def action_save(self) -> None:
        """Write down what is typed."""
        entry = self._entry
        if entry is None:
            return
        if not self._is_changed:
            self.dismiss(("Nothing was changed.",))
            return
        told = {key: self._field(key).text for key in PLAIN}
        streets = [self._field(f"street{n}").text for n in range(STREETS)]
        same = all(text == self._first[f"street{n}"] for n, text in enumerate(streets))
        address = entry.address if same else "\n".join(filter(None, streets))
        command = ChangeCustomer(entry.id, entry.version, address=address, **told)
        self.carry_out(over(entry, command))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Go back with what was said."""
        if isinstance(event.command, ChangeCustomer | EraseCustomer):
            self.dismiss(event.done.said)

    @on(NotCarried)
    def refused(self, event: NotCarried) -> None:
        """Go where it is wrong; nothing typed is lost, and the base tells why."""
        words = getattr(event.error, "message", str(event.error))
        key = next((k for k in PLAIN if k.replace("_", " ").casefold() in words.casefold()), "name")
        self._field(key).input.focus()

    def action_erase(self) -> None:
        """Ask why the customer is erased, and whether it is meant: nothing brings back who they were."""
        entry = self._entry
        if entry is None:
            return

        def meant(why: str | None) -> None:
            if why is None:
                return
            question = Confirm(
                f"Erase {entry.name} for good?",
                note="Name, address, plates and what they said go. Invoices and the work on the cars stay.",
            )
            self.app.push_screen(
                question, lambda yes: self.carry_out(EraseCustomer(entry.id, why)) if yes else None
            )

        self.app.push_screen(
            AskText(f"Why is {entry.name} erased?", note="It stays in the journal: name nobody in it."), meant
        )

    def action_back(self) -> None:
        """Go back; asks first when something was typed."""
        if not self._is_changed:
            self.dismiss(None)
            return
        question = Confirm("Leave it as it was?", note="What you typed is written down nowhere yet; F2 does.")
        self.app.push_screen(question, lambda yes: self.dismiss(None) if yes else None)


def _texts(entry: "CustomerEntry") -> dict[str, str]:
    lines = entry.address.splitlines()
    lines = [*lines[: STREETS - 1], ", ".join(lines[STREETS - 1 :])]
    streets = {f"street{n}": lines[n] if n < len(lines) else "" for n in range(STREETS)}
    return {**{key: str(getattr(entry, key)) for key in PLAIN}, **streets}
