"""The acts of the page of people."""

from shopcli.screens.act import Act

PEOPLE: tuple[Act, ...] = (
    Act("people.pin", "p,f3", "PIN", "Set your own PIN, or as an owner somebody else's; it is typed twice."),
    Act("people.clear_pin", "x,f4", "No PIN", "Take the PIN away: whoever chooses the name is let in then."),
    Act("people.new", "n,f2", "New person", "Take somebody on, with what they may do."),
    Act("people.change", "enter,space", "Change", "Change the chosen one's name, or what they may do."),
    Act("people.leaves", "o,f9", "Leaves", "The chosen one no longer works here, or does again."),
    Act("people.all", "a,f12", "All", "Show those who left too, or no longer."),
    Act("people.back", "escape,q", "Back", "Go back."),
)
