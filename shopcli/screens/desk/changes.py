"""What the desk writes on a card once it is open: the promise, the authority, the words, the money.

Every question says what it understood while it is typed, and starts from what is on the card now.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

from textual import on

from shopcli.present import day, money, odometer
from shopcli.screens.desk.backwards import AskingBackwards
from shopcli.screens.desk.looking import today
from shopcli.screens.desk.questions import commands, sum_words
from shopcli.screens.desk.taking_money import TakingMoney
from shopcli.screens.doing import Looked

if TYPE_CHECKING:
    from shopcli.screens.dialogs import Choice
    from shopcli.shop.card_commands import ChangeCard, OpenCard
    from shopcli.shop.listed import CardRow
    from shopcli.shop.views import CardView

AnswerT = TypeVar("AnswerT")
# What the desk writes down of a car as it came.
KEPT = (("car_keys", "Keys"), ("left_with", "Left in the car"), ("fuel", "Fuel"), ("damage", "Damage"))


class Changing(TakingMoney[AnswerT], AskingBackwards[AnswerT]):
    """A screen from which a card's particulars can be changed."""

    def ask_why_held(self, row: "CardRow") -> None:
        """Ask why a card is held; one with parts on order may go on by itself when they are here."""
        note = f"{row.number}, {row.registration}, {row.customer}"

        def hold(why: str, *, for_parts: bool = False) -> None:
            self.carry_out(commands().MoveCard(row.id, "held", why, for_parts))

        def other(key: str) -> None:
            if key == "parts":
                hold("waiting for parts", for_parts=True)
            else:
                self.ask_reason("Why is the card held?", note, hold)

        if not row.on_order:
            other("")
            return
        from shopcli.screens.dialogs import Choice

        count = f"{row.on_order} {'part' if row.on_order == 1 else 'parts'} on order"
        parts = Choice("parts", "Waiting for parts", f"{count}; it goes on by itself when they are here")
        choices = [parts, Choice("other", "Another reason", "it is taken in hand again by hand")]
        self.pick("Why is the card held?", choices, other, note=note)

    def change(self, card_id: int) -> None:
        """Ask what is to be changed on a card."""
        shop = self.desk_app.shop
        from shopcli.store.reads.bench import card

        self.look("card to change", lambda: card(shop, card_id))

    @on(Looked)
    def ask_what(self, event: Looked) -> None:
        """Offer what can be changed, with what it is now."""
        if event.what != "card to change":
            return
        view: CardView = event.seen
        asked: dict[str, Callable[[CardView], None]] = {
            "promised": self.ask_promise,
            "authority": self.ask_authority,
            "money": lambda view: self.take_money(view.id),
            "odometer": self.ask_odometer,
            "words": self.ask_words,
            "car_keys": lambda view: self._ask_kept(view, "car_keys", "Which keys are here?"),
            "left_with": lambda view: self._ask_kept(view, "left_with", "What was left in the car?"),
            "fuel": lambda view: self._ask_kept(view, "fuel", "How much fuel is in it?"),
            "damage": lambda view: self._ask_kept(view, "damage", "What damage did it come with?"),
            "customer": lambda view: self.show_customer(view.id),
            "reverse": self._ask_reverse,
            "void": self._ask_void,
        }
        note = f"{view.number}, {view.registration}, {view.customer}"
        self.pick("What is to be changed?", self._choices(view), lambda key: asked[key](view), note=note)

    def _choices(self, view: "CardView") -> tuple["Choice", ...]:
        from shopcli.screens.dialogs import Choice

        currency = self.desk_app.shop.settings.currency
        authority = money(view.authority, currency) if view.authority is not None else "none written"
        return (
            Choice("promised", "Promise date", day(view.promised) if view.promised else "none yet"),
            Choice("authority", "Authority", f"{authority} {view.authority_by}".strip()),
            Choice("money", "Take a deposit", "money paid before the invoice; says what is due"),
            Choice("odometer", "Odometer", odometer(view.odometer, view.distance_unit)),
            Choice("words", "What the customer said", view.words or "nothing written"),
            *(Choice(key, label, getattr(view, key) or "nothing written") for key, label in KEPT),
            Choice("customer", "The customer", "name, telephone, address"),
            Choice("reverse", "Reverse charge", "a customer with a VAT number is billed without tax"),
            Choice("void", "Void the card", "only while no work is on it"),
        )

    def show_customer(self, card_id: int) -> None:
        """Open the form of the customer whose card it is."""
        from shopcli.screens.desk.customer import CustomerScreen

        self.app.push_screen(CustomerScreen(card_id), lambda said: self.tell(said) if said else None)

    def _put(self, view: "CardView", **values: Any) -> None:
        """Change what the card that was shown says."""
        from shopcli.shop.seen import over

        self.carry_out(over(view, commands().ChangeCard(view.id, view.version, **values)))

    def ask_promise(self, view: "CardView") -> None:
        """Ask for another promise date; nothing typed takes it away."""
        from shopcli.screens.desk.dates import in_words, read_date

        now = today(self.desk_app.shop)

        def understood(text: str) -> str:
            meant = read_date(text, now)
            return in_words(meant, now) if meant else "no promise"

        def keep(text: str) -> None:
            meant = read_date(text, now)
            self._put(view, promised=meant.isoformat() if meant else "")

        self.ask(
            f"For when is {view.number} promised?",
            keep,
            note=f"now: {day(view.promised)}" if view.promised else "no promise yet",
            check=lambda text: read_date(text, now),
            understood=understood,
            placeholder="4.12., fri, +3",
            allow_empty=True,
        )

    def ask_authority(self, view: "CardView") -> None:
        """Ask how far the customer lets the shop go now, and who said so."""
        from shopcli.shop.typed_figures import read_sum

        currency = self.desk_app.shop.settings.currency

        def who(text: str) -> None:
            self.ask(
                f"Who authorised {sum_words(text, currency)}?",
                lambda by: how(text, by),
                value=view.authority_by,
                placeholder="name",
                offered=True,
            )

        def how(text: str, by: str) -> None:
            from shopcli.screens.dialogs import Choice
            from shopcli.shop.offer_commands import HOWS

            sum_now = read_sum(text, "authority")
            self.pick(
                f"{by}, {sum_words(text, currency)}: how was it said?",
                [Choice(way, way) for way in HOWS],
                lambda way: self._put(view, authority_minor=sum_now, authority_by=by, authority_how=way),
            )

        now = "none written" if view.authority is None else money(view.authority, currency)
        self.ask(
            f"Up to what sum {self.desk_app.shop.settings.with_tax} is {view.number} authorised?",
            who,
            note=f"now: {now}",
            check=lambda text: read_sum(text, "authority"),
            understood=lambda text: sum_words(text, currency),
        )

    def type_odometer_again(self, command: "OpenCard | ChangeCard") -> None:
        """Ask again what the odometer shows, of the card as it is now."""
        from shopcli.store.reads.bench import card

        if isinstance(command, commands().ChangeCard):
            shop, key = self.desk_app.shop, command.card_id
            self.look("card to read again", lambda: card(shop, key))

    @on(Looked)
    def ask_odometer_again(self, event: Looked) -> None:
        """Ask for the odometer of a card that was read anew."""
        if event.what == "card to read again":
            self.ask_odometer(event.seen)

    def ask_odometer(self, view: "CardView") -> None:
        """Ask what the odometer shows; less than at an earlier visit is asked about."""
        from shopcli.shop.typed_figures import read_odometer

        self.ask(
            f"What does the odometer of {view.registration} show?",
            lambda text: self._put(view, odometer=read_odometer(text)),
            note=f"on the card: {odometer(view.odometer, view.distance_unit)}",
            check=read_odometer,
            understood=lambda text: odometer(read_odometer(text), view.distance_unit) if text.strip() else "",
        )

    def ask_words(self, view: "CardView") -> None:
        """Ask what the customer said."""
        self.ask(
            "What did the customer say?",
            lambda text: self._put(view, words=text),
            value=_one_line(view.words),
            allow_empty=True,
        )

    def _ask_kept(self, view: "CardView", key: str, question: str) -> None:
        """Ask again what was written of the car when it came."""
        self.ask(
            question,
            lambda text: self._put(view, **{key: text}),
            value=_one_line(getattr(view, key)),
            allow_empty=True,
        )

    def _ask_reverse(self, view: "CardView") -> None:
        self.ask(
            f"The VAT number {view.customer} accounts for the tax by?",
            lambda text: self.carry_out(commands().SetReverseCharge(view.customer_id, text)),
            note="Their bills charge no tax from the next one on, and say so. Nothing typed: they are billed with tax.",
            placeholder="like DE123456789",
            allow_empty=True,
        )

    def _ask_void(self, view: "CardView") -> None:
        note = f"{view.number}, {view.registration}, {view.customer}"
        self.ask_reason(
            "Why is the card void?",
            note,
            lambda why: self.carry_out(commands().MoveCard(view.id, "void", why)),
        )


def _one_line(text: str) -> str:
    return " ".join(text.split())
