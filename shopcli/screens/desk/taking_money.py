"""Money taken at the desk: what is due stands there first, and more than is due is not taken without a word."""

from functools import partial
from typing import TYPE_CHECKING, TypeVar

from textual import on

from shopcli.screens.desk.questions import Questions, commands, sum_words
from shopcli.screens.doing import Looked

if TYPE_CHECKING:
    from collections.abc import Callable

    from shopcli.shop.command import Command
    from shopcli.shop.handing_view import MoneyNow
    from shopcli.store.shop import Shop

AnswerT = TypeVar("AnswerT")
MONEY = "money now"
OVER = {"y": "change", "k": "kept"}


def _money_now(shop: "Shop", card_id: int) -> "MoneyNow":
    from shopcli.store.reads.handing import money_now

    return money_now(shop, card_id)


class TakingMoney(Questions[AnswerT]):
    """A screen at which money is taken and given back."""

    def take_money(self, card_id: int) -> None:
        """Read what is due on a card, then ask how much is paid and how."""
        self.look(MONEY, partial(_money_now, self.desk_app.shop, card_id))

    @on(Looked)
    def ask_how_much(self, event: Looked) -> None:
        """Ask for the sum, or whether what is in the customer's favour is given back."""
        if event.what != MONEY:
            return
        now: MoneyNow = event.seen
        if now.invoice and now.due < 0:
            self._ask_which_way(now)
        else:
            self._ask_sum(now)

    @property
    def _currency(self) -> str:
        return self.desk_app.shop.settings.currency

    def _ask_sum(self, now: "MoneyNow", value: str | None = None) -> None:
        """Ask how much is paid: a deposit while the card is open, a payment after; what is due stands above."""
        from shopcli.handing_words import money_words
        from shopcli.shop.typed_figures import read_sum, sum_to_type

        kind, currency = ("payment" if now.invoice else "deposit"), self._currency
        due = sum_to_type(now.due) if now.invoice else ""
        self.ask(
            f"How much is paid on {now.view.number} ({kind})?",
            lambda text: self._see_over(now, text, read_sum(text, kind) or 0),
            note=money_words(now, self.desk_app.shop.settings),
            value=due if value is None else value,
            offered=value is None,
            check=lambda text: read_sum(text, kind),
            understood=lambda text: sum_words(text, currency),
        )

    def _see_over(self, now: "MoneyNow", text: str, amount: int) -> None:
        """Ask what becomes of what is more than is due; a slip is typed again."""
        from shopcli.handing_words import over_words
        from shopcli.screens.dialogs import Choice

        over = over_words(now, amount, self._currency)
        if not over:
            self._ask_method(now, text, amount)
            return
        choices = [Choice("k", f"{over} kept in the customer's favour", "it can be given back later")]
        if now.due > 0:
            due = sum_words(_typed(now), self._currency)
            choices.insert(0, Choice("y", f"{over} change given back", f"{due} is taken"))
        self.ask_key(
            f"{sum_words(text, self._currency)} is {over} more than is due. Is that right?",
            choices,
            lambda key: self._ask_method(now, text, amount, OVER[key]),
            back=lambda: self._ask_sum(now, text),
        )

    def _ask_method(self, now: "MoneyNow", text: str, amount: int, over: str = "") -> None:
        kind = "payment" if now.invoice else "deposit"
        self._pick_method(
            f"{sum_words(text, self._currency)}: how is it paid?",
            lambda method: commands().TakePayment(now.view.id, amount, kind, method, over=over),
        )

    def _pick_method(self, question: str, command: "Callable[[str], Command]") -> None:
        from shopcli.screens.dialogs import Choice

        choices = [Choice(m, m) for m in self.desk_app.shop.settings.payment_methods]
        self.pick(question, choices, lambda method: self.carry_out(command(method)))

    # Giving back --------------------------------------------------------------------------------------

    def _ask_which_way(self, now: "MoneyNow") -> None:
        """Ask whether money is given back or taken, where the customer has some in hand."""
        from shopcli.handing_words import money_words
        from shopcli.screens.dialogs import Choice

        back = sum_words(_typed(now), self._currency)
        self.ask_key(
            f"Money on {now.view.number}: which way?",
            [Choice("g", f"Give {back} back", "asks why, and how"), Choice("m", "Take more money")],
            lambda key: self._give_back(now) if key == "g" else self._ask_sum(now),
            note=money_words(now, self.desk_app.shop.settings),
        )

    def _give_back(self, now: "MoneyNow") -> None:
        from shopcli.shop.typed_figures import read_sum

        text = _typed(now)
        amount = read_sum(text) or 0

        def how(why: str) -> None:
            self._pick_method(
                f"{sum_words(text, self._currency)} back: how?",
                lambda method: commands().Refund(now.view.id, amount, why, method),
            )

        self.ask_reason(
            f"Why is {sum_words(text, self._currency)} given back?",
            f"{now.view.number}, {now.view.registration}, {now.view.customer}",
            how,
        )


def _typed(now: "MoneyNow") -> str:
    """Return what is due, or in the customer's favour, as one would type it."""
    from shopcli.shop.typed_figures import sum_to_type

    return sum_to_type(abs(now.due))
