"""What is asked when an offer is made or answered: which jobs, who said so, how it came, up to what sum."""

from typing import TYPE_CHECKING

from shopcli.present import money
from shopcli.screens.asks import Asks
from shopcli.screens.dialogs import Choice
from shopcli.shop.amounts import from_minor
from shopcli.shop.offer_commands import HOWS, AcceptOffer, DeclineOffer, MakeOffer
from shopcli.shop.typed_figures import read_sum

if TYPE_CHECKING:
    from shopcli.store.reads.ahead import CardAhead
    from shopcli.store.reads.made_offers import OfferView

ON_CARD = "*"


async def ask_yes(screen: Asks, *, offer: "OfferView") -> None:
    """Ask who said yes, how, and up to what sum."""
    settings = screen.desk_app.shop.settings
    currency = settings.currency
    note = f"{offer.registration}, {offer.customer}, {offer.phone}"
    who = await screen.ask_text(
        f"Who says yes to {offer.number}?", value=offer.customer, note=note, offered=True
    )
    how = await _how(screen) if who else None
    if who is None or how is None:
        return

    def understood(text: str) -> str:
        minor = read_sum(text, "authority")
        return (
            f"up to {money(offer.most if minor is None else from_minor(minor), currency)} {settings.with_tax}"
        )

    text = await screen.ask_text(
        f"Up to what sum {settings.with_tax}?",
        note=f"left empty: {money(offer.most, currency)}, the highest of the offer",
        check=lambda t: read_sum(t, "authority"),
        understood=understood,
        allow_empty=True,
    )
    if text is not None:
        screen.carry_out(AcceptOffer(offer.id, who, how, read_sum(text, "authority")))


async def ask_no(screen: Asks, *, offer: "OfferView") -> None:
    """Ask who said no, how, and why."""
    who = await screen.ask_text(f"Who says no to {offer.number}?", value=offer.customer, offered=True)
    how = await _how(screen) if who else None
    if who is None or how is None:
        return
    why = await screen.ask_text("Why? In their own words.", allow_empty=True)
    if why is not None:
        screen.carry_out(DeclineOffer(offer.id, who, how, why))


async def _how(screen: Asks) -> str | None:
    return await screen.ask_pick("How did it come?", [Choice(how, how) for how in HOWS])


async def ask_offer(screen: Asks, *, card: "CardAhead") -> None:
    """Ask what is offered on a card: its jobs as they stand, or one more."""
    import asyncio

    from shopcli.store.reads.offers import fitting

    fits = await asyncio.to_thread(fitting, screen.desk_app.shop, card.vehicle_id)
    choices = [Choice(ON_CARD, "The jobs of the card, as they stand")] if card.templates else []
    choices += [Choice(name, title, system) for name, title, system in fits if name not in card.templates]
    chosen = await screen.ask_pick(f"What is offered on {card.number}?", choices, note=card.registration)
    if chosen is not None:
        names = card.templates if chosen == ON_CARD else (chosen,)
        screen.carry_out(MakeOffer(card.vehicle_id, names, card.id))
