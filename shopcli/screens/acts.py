"""Everything a key can do, once: bindings, the footer, the palette and the help page are all made from this list.

Ids are stable (``station.verb``): a shop's own key choices refer to them. Letters act at the bench, where
nothing is typed but numbers; at the desk the letters narrow the list, so acts there are function keys.
"""

from textual.binding import Binding, BindingType

from shopcli.screens.act import Act
from shopcli.screens.acts_ahead import AHEAD
from shopcli.screens.acts_counter import COUNTER
from shopcli.screens.acts_people import PEOPLE
from shopcli.screens.acts_stores import STORES
from shopcli.screens.acts_week import WEEK

ACTS: tuple[Act, ...] = (
    Act("app.desk", "f5", "Desk", "Go to the list of open cards.", priority=True),
    Act("app.bench", "f6", "Bench", "Go to the card in hand.", priority=True),
    Act("app.week", "f7", "Week", "Go to the weeks of the shop.", priority=True),
    Act("app.person", "f8", "Who", "Say who stands here now.", priority=True),
    Act(
        "app.sheets",
        "f10",
        "Sheets",
        "Look up, enter and confirm numbers; once more chooses another sheet or vehicle.",
        priority=True,
    ),
    Act(
        "app.stores",
        "ctrl+t",
        "Stores",
        "Go to the stores: shelf, what to order, orders and goods in, outwork, exchanges.",
        footer=False,
        priority=True,
    ),
    Act("app.help", "f1,question_mark", "Help", "Explain this screen and its keys."),
    Act(
        "app.quit",
        "ctrl+q",
        "Leave",
        "Leave the program; asks first when your clock runs.",
        footer=False,
        priority=True,
    ),
    # Desk
    Act("desk.open_bench", "enter", "To the bench", "Open the chosen card at the bench.", footer=False),
    Act("desk.new_card", "f2", "New card", "Open a card: customer, vehicle, what for."),
    Act("desk.close_card", "f3", "Close", "Go through the closing check of the chosen card."),
    Act("desk.summary", "f4", "Summary", "Show the invoice-ready summary of the chosen card."),
    Act("desk.hold", "f9", "Hold / go on", "Hold the chosen card with a reason, or take it in hand again."),
    Act("desk.change", "f12,ctrl+r", "Change", "Change promise date, authority or words; take money; void."),
    Act("desk.where", "f11,ctrl+l", "Where", "Tell where the chosen card stands and where you were."),
    Act(
        "desk.ahead",
        "ctrl+y",
        "Price, date",
        "Show what the chosen card will cost and when it will be ready; offers; who would slip.",
    ),
    Act("desk.clear", "escape", "Clear", "Clear what was typed.", footer=False),
    Act("desk.next", "down", "Next card", "Choose the next card.", footer=False),
    Act("desk.previous", "up", "Card before", "Choose the card before.", footer=False),
    Act("desk.page_next", "pagedown", "Further on", "Choose a card a screenful further on.", footer=False),
    Act("desk.page_previous", "pageup", "Back", "Choose a card a screenful back.", footer=False),
    *COUNTER,
    *AHEAD,
    # What earlier visits left
    Act(
        "carried.take",
        "t",
        "Take on",
        "Take the chosen thing on, or leave it again; so do Enter and its figure.",
    ),
    Act("carried.decline", "n", "Declined", "The customer says no: their words, and who spoke them."),
    Act("carried.leave", "l", "Leave", "Leave the chosen thing for the next visit."),
    Act("carried.go_on", "f2,ctrl+s", "Go on", "Go on and save the card as decided."),
    Act("carried.back", "escape", "Back", "Go back to the form; what was decided is kept."),
    # Summary
    Act("summary.save_text", "f2,t", "Text", "Save the summary as plain text."),
    Act("summary.save_html", "f3,h", "HTML", "Save the summary as a page to print."),
    Act(
        "summary.save_pdf",
        "f12,d",
        "PDF",
        "Save the summary as PDF, fit to be printed, mailed and kept.",
    ),
    Act("summary.copy", "f4,c", "Copy", "Send the text to the terminal's clipboard."),
    Act("summary.pay", "f9,p", "Take money", "Take a deposit, or the payment when the card is closed."),
    Act("summary.back", "escape,q", "Back", "Go back."),
    # Bench
    Act("bench.done", "d", "Done", "Say the task is done."),
    Act("bench.clock", "c", "Clock", "Start your clock on this task, or stop it."),
    Act("bench.reading", "r,enter", "Reading", "Type a reading; any figure starts one too."),
    Act("bench.fit", "f", "Parts", "Parts of the task: fit, order, put another instead, from stock."),
    Act("bench.leave_out", "o", "Leave out", "Leave the task out, with a reason."),
    Act("bench.finding", "s", "Seen", "Write down a fault seen and not mended."),
    Act("bench.second", "v", "2nd check", "Sign as the second pair of eyes."),
    Act(
        "bench.take_back",
        "u",
        "Undo",
        "Take back what you did last on this card, or do it again; says first what that undoes.",
    ),
    Act("bench.pause", "b", "Break", "Go on a break, or on again with the same task."),
    Act("bench.spec", "n", "Number", "Enter or confirm the number of this task from the handbook."),
    Act("bench.tags", "t", "Tags", "Show tags and owed checks; lift or settle one."),
    Act("bench.units", "m", "Units", "Show numbers in the other unit system first."),
    # Two rows of labels are full at 80 columns; the sum's own line on the screen names this key.
    Act("bench.working", "w", "Sums", "Open the workshop sums: the task's own, filled in.", footer=False),
    Act("bench.summary", "y", "Summary", "Show the summary of this card as it stands."),
    Act("bench.close_card", "k", "Close", "Go through the closing check of this card."),
    Act("bench.order", "a", "Order", "Show the order of work: the day ahead, why, and wishes for another."),
    Act(
        "bench.more",
        "p",
        "More",
        "Another tool, a photo, the photos of the card, the bench sheet, the shop's tools.",
        footer=False,
    ),
    Act("bench.picture", "g", "Pictures", "Look at the cap, the order, the bars, the valves, the tags."),
    Act("bench.cell_left", "left", "Left", "Go to the reading on the left.", footer=False),
    Act("bench.cell_right", "right", "Right", "Go to the reading on the right.", footer=False),
    Act("bench.phase", "tab", "Found / left", "Go from as found to as left, or back.", footer=False),
    Act("bench.where", "l,f11", "Where", "Tell where the card stands and where you were."),
    Act("bench.times", "f9", "Times", "Show your own times of a day and put them right."),
    Act("bench.next", "j,down", "Next task", "Go to the next task.", footer=False),
    Act("bench.previous", "i,up", "Task before", "Go to the task before.", footer=False),
    Act("bench.read_on", "pagedown", "Read on", "Read on in a long text.", footer=False),
    Act("bench.read_back", "pageup", "Read back", "Go back in a long text.", footer=False),
    # Order of work
    Act("order.open", "enter", "Go there", "Go to the chosen task at the bench."),
    Act("order.next", "n", "Next", "Want the chosen task next, before everything that is not begun."),
    Act("order.place", "p", "Place", "Want it in another place: type the number, or last."),
    Act("order.earlier", "e", "Earlier", "Move it one place earlier."),
    Act("order.later", "l", "Later", "Move it one place later."),
    Act("order.after", "a", "After", "Want it after another task."),
    Act("order.by", "w", "Who", "Say who does it."),
    Act(
        "order.give_back", "g", "Give back", "Give back what was asked for; the planner's own order returns."
    ),
    Act("order.hands", "h", "Hands", "Say how many people work on this card."),
    Act("order.down", "j,down", "Next step", "Choose the next step.", footer=False),
    Act("order.up", "i,up", "Step before", "Choose the step before.", footer=False),
    Act("order.back", "escape,q", "Back", "Go back; what was asked for stays."),
    # Sums
    Act("workings.another", "f2", "Another sum", "Choose another sum; what is typed here stays."),
    Act("workings.again", "f3", "Start again", "Put back what is known and empty the other fields."),
    Act("workings.read_on", "pagedown", "Read on", "Read on in a long answer.", priority=True),
    Act(
        "workings.read_back", "pageup", "Read back", "Go back in a long answer.", footer=False, priority=True
    ),
    Act("workings.next", "down", "Next field", "Go to the next field; Enter does too.", footer=False),
    Act("workings.previous", "up", "Field before", "Go to the field before.", footer=False),
    Act("workings.back", "escape", "Back", "Go back; a sum changes no record."),
    # Parts at the task
    Act("parts.fit", "f,enter", "Fitted", "The chosen part is fitted; it is taken from stock."),
    Act("parts.order", "o", "Order", "Put the chosen part on the order list."),
    Act("parts.order_short", "l", "All short", "Put everything short on the order list."),
    Act("parts.arrived", "a", "Here", "The chosen part, on order, has arrived."),
    Act("parts.instead", "i", "Another", "Fit another part instead of the chosen one, with the reason."),
    Act("parts.not_used", "n", "Not used", "The chosen part is not used."),
    Act("parts.wanted", "w", "Wanted", "The chosen part is wanted again."),
    Act("parts.returned", "r", "Returned", "The chosen part came off again and goes back."),
    Act("parts.old_unit", "x", "Old unit", "The old unit of an exchange went back; again: it did not."),
    Act("parts.from_stock", "g", "From stock", "Put a part on from stock."),
    Act("parts.own", "c", "Customer's", "Put a part on that the customer brought; it is not billed."),
    Act("parts.back", "escape,q", "Back", "Go back."),
    # Stores
    *STORES,
    # Photos
    Act("photos.show", "enter,space", "Show", "Show the chosen photo as large as there is room."),
    Act("photos.remove", "f9,o", "Take off", "Take the chosen photo off the card, with a reason."),
    Act("photos.back", "escape,q", "Back", "Go back."),
    # Tools
    Act("tools.new", "f2,n", "New tool", "Write a tool into the register."),
    Act("tools.change", "enter,space", "Change", "Change what the register says of the chosen tool."),
    Act("tools.calibrated", "f3,c", "Calibrated", "Note that the chosen tool was calibrated."),
    Act("tools.retire", "f9,o", "Out of use", "Take the chosen tool out of use, with a reason."),
    Act("tools.all", "f4,a", "All", "Show those out of use too, or no longer."),
    Act("tools.back", "escape,q", "Back", "Go back."),
    # People
    *PEOPLE,
    # Sheets
    Act(
        "sheets.enter",
        "enter",
        "Enter",
        "Type the chosen number as it is printed; Enter goes on to the next one.",
    ),
    Act(
        "sheets.confirm", "f2", "Confirm", "Confirm the chosen number: it stands so in the document in hand."
    ),
    Act(
        "sheets.history",
        "f3",
        "History",
        "Show every entry of the chosen number; an old one can be withdrawn.",
    ),
    Act(
        "sheets.withdraw",
        "f4",
        "Withdraw",
        "Withdraw the chosen number, with a reason; what it hid counts again.",
    ),
    Act("sheets.add", "f9", "Add", "Add a number that is not in the list, known elsewhere or new."),
    Act(
        "sheets.facts",
        "f12,ctrl+r",
        "Facts",
        "Change the facts: cylinders, firing order, earth and the like.",
    ),
    Act("sheets.back", "escape", "Back", "Close the form, clear what narrows the list, go back."),
    Act("sheets.next", "down", "Next number", "Go to the next number.", footer=False),
    Act("sheets.previous", "up", "Number before", "Go to the number before.", footer=False),
    Act("sheets.page_next", "pagedown", "Further on", "Go a screenful further on.", footer=False),
    Act("sheets.page_previous", "pageup", "Back", "Go a screenful back.", footer=False),
    # Facts
    Act("sheet_facts.save", "f2,ctrl+s", "Save", "Keep the facts as they stand."),
    Act("sheet_facts.back", "escape", "Back", "Go back; asks first when something is typed."),
    # Where was I
    Act("where.go_on", "enter", "Go on", "Go to the next thing to do, at the bench."),
    Act("where.back", "escape,q,l,f11", "Back", "Go back to where you stood."),
    # Times
    Act(
        "times.change",
        "enter",
        "Change",
        "Change the chosen time: from, until, on which task; with a reason.",
        priority=True,
    ),
    Act("times.split", "s", "Split", "Split the chosen time; the later part may go to another task."),
    Act("times.add", "a", "Add", "Add time that was forgotten."),
    Act("times.earlier", "left", "Day before", "Show the day before.", priority=True),
    Act("times.later", "right", "Next day", "Show the next day, up to today.", priority=True),
    Act("times.today", "home", "Today", "Show today.", footer=False, priority=True),
    Act("times.whose", "p", "Whose", "Show somebody else's times; only the owner changes those of others."),
    Act("times.back", "escape,q,f9", "Back", "Go back."),
    # Pictures
    Act("pictures.next", "right,pagedown,g", "Next", "Look at the next picture."),
    Act("pictures.previous", "left,pageup", "Before", "Look at the picture before."),
    Act("pictures.turn", "down,space", "Turn on", "Turn the crank on to the next position, or read on."),
    Act("pictures.turn_back", "up", "Turn back", "Turn back to the position before, or read back."),
    Act("pictures.back", "escape,q", "Back", "Go back to the task."),
    *WEEK,
)


def bindings(station: str) -> list[BindingType]:
    """Return the bindings of a station; an act ``desk.new_card`` calls ``action_new_card``."""
    return [
        Binding(
            a.keys, a.id.split(".")[1], a.label, show=a.footer, priority=a.priority, tooltip=a.help, id=a.id
        )
        for a in ACTS
        if a.id.startswith(station + ".")
    ]


def acts_of(station: str) -> tuple[Act, ...]:
    """Return the acts of a station and those that work everywhere."""
    return tuple(a for a in ACTS if a.id.startswith((station + ".", "app.")))


NAMES = {
    "question_mark": "?",
    "enter": "Enter",
    "escape": "Esc",
    "space": "Space",
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "down": "Down",
    "tab": "Tab",
    "pageup": "Page Up",
    "pagedown": "Page Down",
}


def key_names(keys: str) -> str:
    """Return the keys of an act as they are printed on the keyboard."""
    return ", ".join(
        NAMES.get(k, k.upper() if k[0] == "f" and k[1:].isdigit() else k) for k in keys.split(",")
    )
