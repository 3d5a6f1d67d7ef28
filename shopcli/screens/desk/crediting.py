"""The questions before a credit note: what of the invoice is credited, why, and whether it is meant."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from shopcli.columns import cut
from shopcli.present import money, percent
from shopcli.screens.desk.questions import sum_words
from shopcli.shop.amounts import from_minor
from shopcli.shop.money_commands import CreditInvoice

if TYPE_CHECKING:
    from shopcli.screens.desk.questions import Questions
    from shopcli.shop.bill import Bill
    from shopcli.shop.command import Command

REST, SUM = "rest", "sum"
NAME_MOST = 50


def ask_credit(
    screen: "Questions[None]", card_id: int, bill: "Bill", carry_out: Callable[["Command"], None]
) -> None:
    """Ask what is credited: all that is left, a sum or one line; then why, and whether it is meant."""
    from shopcli.screens.dialogs import Choice

    settings = screen.desk_app.shop.settings
    choices = [
        Choice(REST, "All that is left of it", f"the invoice came to {money(bill.with_vat, bill.currency)}"),
        Choice(SUM, "A sum", f"{settings.without_tax}, at a rate of the invoice"),
        *(
            Choice(f"line {x.id}", cut(x.description, NAME_MOST), money(x.net, bill.currency))
            for x in bill.lines
            if x.net
        ),
    ]

    def what(key: str) -> None:
        if key == SUM:
            _ask_sum(screen, bill, lambda minor, vat: why(CreditInvoice(card_id, "", (), minor, vat), ""))
        else:
            lines = () if key == REST else ((key.removeprefix("line "), 0),)
            why(CreditInvoice(card_id, "", lines), next(c.label for c in choices if c.key == key))

    def why(command: CreditInvoice, of: str) -> None:
        of = of or f"{money(from_minor(command.amount_minor), bill.currency)} {settings.without_tax}"
        screen.ask_reason("Why? The customer reads it.", of, lambda text: sure(command, of, text))

    def sure(command: CreditInvoice, of: str, reason: str) -> None:
        made = replace(command, reason=reason)
        screen.ask_key(
            f"Write a credit note for invoice {bill.number}?",
            [Choice("y", "yes", "its number and its figures stay for good"), Choice("n", "no")],
            lambda key: carry_out(made) if key == "y" else None,
            note=f"{of}: {reason}",
        )

    screen.pick(f"What of invoice {bill.number} is credited?", choices, what)


def _ask_sum(screen: "Questions[None]", bill: "Bill", then: Callable[[int, str], None]) -> None:
    """Ask for a sum, and at which of the invoice's rates where there are several."""
    from shopcli.screens.dialogs import Choice
    from shopcli.shop.typed_figures import read_sum

    settings = screen.desk_app.shop.settings
    rates = [Choice(g.vat, f"{g.vat}, {percent(g.percent)}") for g in bill.groups]

    def rate(text: str) -> None:
        minor = read_sum(text) or 0
        if len(rates) == 1:
            then(minor, rates[0].key)
        else:
            screen.pick("At which rate?", rates, lambda vat: then(minor, vat))

    screen.ask(
        f"How much is credited, {settings.without_tax}?",
        rate,
        check=read_sum,
        understood=lambda text: sum_words(text, bill.currency),
    )
