"""The acts of the counter: a new card, whom to ring, the closing check, the hand-over."""

from shopcli.screens.act import Act

COUNTER: tuple[Act, ...] = (
    # Whom to ring
    Act(
        "desk.ring",
        "ctrl+n",
        "Ring",
        "Show whom to ring: who waits on what, with their telephone and what was said last.",
    ),
    Act("ring.note", "n,enter", "Note call", "Note the call: who was reached, what was said, when again."),
    Act("ring.nobody", "x", "Nobody", "Note that nobody was reached; it comes again tomorrow."),
    Act(
        "ring.go", "g", "Go there", "Go where it is mended: the price, the hand-over, the bench, the offers."
    ),
    Act("ring.back", "escape,q", "Back", "Go back."),
    Act(
        "desk.customer",
        "ctrl+k",
        "Customer",
        "Change the customer of the chosen card: name, telephone, address, VAT number.",
        footer=False,
        priority=True,
    ),
    # A customer
    Act("desk_customer.save", "f2,ctrl+s", "Save", "Write down what is typed."),
    Act(
        "desk_customer.erase",
        "f12,ctrl+r",
        "Erase",
        "Erase who the customer is, for good; an owner does, once no card is open and nothing is owed.",
        footer=False,
    ),
    Act("desk_customer.back", "escape", "Back", "Go back; asks first when something was typed."),
    # New card
    Act("desk_new.save", "f2,ctrl+s", "Save", "Save the customer, the vehicle and the card."),
    Act("desk_new.carried", "f3", "Earlier visits", "Take on, decline or leave what earlier visits left."),
    Act("desk_new.sure", "f4", "Sure date", "Promise the date that is kept 85 times in 100."),
    Act("desk_new.kept", "f9", "Kept form", "Take up a form that was begun; the open one is kept instead."),
    Act("desk_new.throw_away", "f12,ctrl+r", "Throw away", "Throw the form away; asks first."),
    Act("desk_new.back", "escape", "Back", "Go back; what is typed is kept and offered again."),
    # Closing check
    Act("desk_closing.mend", "enter", "Mend", "Go where it is mended, or mend it here."),
    Act("desk_closing.waive", "w", "Waive", "Set the chosen hindrance aside by name, with a reason."),
    Act("desk_closing.odometer", "o", "Odometer", "Write the odometer on the card."),
    Act(
        "desk_closing.close",
        "f3",
        "Close card",
        "Close the card and write the invoice, once nothing hinders.",
    ),
    Act("desk_closing.pay", "f9,p", "Take money", "Take a deposit before the card is closed."),
    Act("desk_closing.summary", "f4", "Summary", "Show the summary as it stands."),
    Act("desk_closing.back", "escape", "Back", "Go back; nothing is closed."),
    # Hand-over
    Act(
        "handing.papers",
        "f2,t",
        "Papers",
        "Write invoice and summary, PDF and text, into the papers folder and say where they are.",
    ),
    Act("handing.hand", "f3,h", "Hand over", "Hand the car over: who fetches it; shows what is due next."),
    Act("handing.summary", "f4,y", "Summary", "Show the summary as the customer reads it."),
    Act("handing.pay", "f9,p", "Take money", "Take a payment; what is due stands in the field."),
    Act(
        "handing.credit",
        "f12,ctrl+r",
        "Credit note",
        "Credit the invoice, a sum or a line of it, with the reason; its paper is written with it.",
    ),
    Act("handing.back", "escape,q", "Back", "Go back."),
)
