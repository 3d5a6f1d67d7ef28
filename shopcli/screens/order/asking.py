"""The wishes that ask something first: which place, after what, by whom, which to give back, how many hands."""

from shopcli.errors import BadInput
from shopcli.orderwords import pairs_of_hands, wish_words
from shopcli.screens.desk.changes import Changing
from shopcli.screens.dialogs import Choice
from shopcli.shop.ordered import NoRoomView, OrderView, StepView
from shopcli.shop.settings_seen import MOST_HANDS
from shopcli.shop.wish_commands import GiveBack, PinTask, SetHands
from shopcli.store.reads import people

Task = StepView | NoRoomView
LAST = "last"


def place(screen: Changing[None], view: OrderView, task: Task) -> None:
    """Ask for a place: a number, or last."""
    count = sum(not s.in_hand for s in view.steps)

    def read(text: str) -> PinTask:
        if text.casefold() == LAST:
            return PinTask(task.task_id, LAST)
        if text.isascii() and text.isdigit() and 1 <= int(text) <= count:
            return PinTask(task.task_id, "place", int(text))
        raise BadInput(f"'{text[:20]}' is no place", hint=f"1 to {count}, or: {LAST}")

    screen.ask(
        f"In which place: {task.title}?",
        lambda text: screen.carry_out(read(text)),
        note=f"1 is next, {count} the last; what is in hand is not counted. '{LAST}' stays last when jobs are added.",
        value=str(view.place(task.task_id) or ""),
        check=read,
    )


def after(screen: Changing[None], view: OrderView, task: Task) -> None:
    """Ask after which other task."""
    others = [s for s in view.steps if s.task_id != task.task_id]
    screen.pick(
        f"After which task: {task.title}?",
        [Choice(str(s.task_id), s.title, s.place) for s in others],
        lambda key: screen.carry_out(PinTask(task.task_id, "after", other_id=int(key))),
    )


def by(screen: Changing[None], task: Task) -> None:
    """Ask who does it."""
    everybody = people.people(screen.desk_app.shop)
    screen.pick(
        f"Who does it: {task.title}?",
        [Choice(str(p.id), p.name, p.role) for p in everybody],
        lambda key: screen.carry_out(PinTask(task.task_id, "by", person_id=int(key))),
    )


def give_back(screen: Changing[None], view: OrderView, task: Task | None) -> None:
    """Give back the wishes for a task; where it has none, ask which."""
    if task is not None and view.wishes_for(task.task_id):
        screen.carry_out(GiveBack(view.card_id, task.task_id))
        return
    if not view.wishes:
        screen.carry_out(GiveBack(view.card_id))
        return
    choices = [Choice("all", "All of them", "the order is the planner's own again")]
    choices += [Choice(str(w.task_id), wish_words(w)) for w in view.wishes]
    screen.pick(
        "Give back which wish?",
        choices,
        lambda key: screen.carry_out(GiveBack(view.card_id, None if key == "all" else int(key))),
    )


def hands(screen: Changing[None], card_id: int, view: OrderView | None) -> None:
    """Ask how many people work on the card."""
    usual = screen.desk_app.shop.settings.hands
    choices = [Choice(str(n), pairs_of_hands(n)) for n in range(1, MOST_HANDS + 1)]
    choices.append(Choice("", "As usual", f"the shop's settings say {usual}"))
    seen = (("hands", view.from_card or ""),) if view else ()
    screen.pick(
        "How many people work on this card?",
        choices,
        lambda key: screen.carry_out(SetHands(card_id, int(key) if key else None, seen)),
        note="Whose clock runs on the card, or who is asked for by name, counts in any case.",
    )
