"""The acts of the screens that look ahead: price and promise of a card, offers and their answers."""

from shopcli.screens.act import Act

AHEAD: tuple[Act, ...] = (
    Act(
        "desk_new.ahead",
        "ctrl+y",
        "Price, date",
        "Show what the chosen jobs would cost and when they could be ready; make an offer instead of a card.",
    ),
    # Price and promise
    Act("ahead.promise", "p", "Promise it", "Write the sure date on the card, or the day looked at."),
    Act("ahead.day", "d", "Another day", "Look at another day: how likely it is kept, and who slips."),
    Act("ahead.offer", "o", "Offer", "Make an offer: jobs at today's prices, fixed for good."),
    Act(
        "ahead.yes", "y", "Said yes", "Note that the customer says yes to the open offer: who, how, how far."
    ),
    Act("ahead.no", "n", "Said no", "Note that the customer says no to the open offer."),
    Act(
        "ahead.paper",
        "f2,ctrl+s",
        "On paper",
        "Save the newest offer of the card as PDF, to print, mail or sign.",
    ),
    Act("ahead.offers", "l", "All offers", "Show the offers of the shop."),
    Act("ahead.back", "escape,q", "Back", "Go back."),
    # Offers
    Act("offers.open", "enter,c", "Open card", "Open the card of the chosen offer that was accepted."),
    Act("offers.yes", "y", "Said yes", "Note that the customer says yes to the chosen offer."),
    Act("offers.no", "n", "Said no", "Note that the customer says no to the chosen offer."),
    Act("offers.paper", "f2,ctrl+s", "On paper", "Save the chosen offer as PDF, to print, mail or sign."),
    Act("offers.back", "escape,q", "Back", "Go back."),
)
