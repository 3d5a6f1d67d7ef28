"""Commands of the bench: readings, tasks, findings, numbers."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, shop_of, task_of
from shopcli.errors import NotFound
from shopcli.shop.bench_commands import AddFinding, FinishTask, LeaveOut, ReopenTask, SecondCheck, TakeReading
from shopcli.shop.views import TaskView
from shopcli.worklists.model import ReadingSlot


def slot_for(task: TaskView, place: str, *, found: bool, left: bool) -> ReadingSlot:
    """Return the reading meant: by its place, and as found or as left.

    Raises
    ------
    NotFound
        When the task asks for none such, or for more than one.
    """
    slots = list(task.task.readings)
    if place:
        slots = [
            s for s in slots if place.casefold() in s.label.casefold() or place.casefold() in s.key.casefold()
        ]
    phases = {s.phase for s in slots}
    wanted = "as found" if found else "as left" if left or "as left" in phases else "as found"
    slots = [s for s in slots if s.phase == wanted]
    if len(slots) == 1:
        return slots[0]
    hint = (
        "; ".join(f"{s.name} {s.label} ({s.phase})" for s in task.task.readings)
        or "This task asks for no reading."
    )
    raise NotFound("which reading?" if slots else "the task asks for no such reading", hint=hint)


def reading(args: Namespace) -> int:
    """Record a reading."""
    shop = shop_of(args)
    task = task_of(card_of(shop, args), args.task)
    slot = slot_for(task, args.at, found=args.found, left=args.left)
    act(args, TakeReading(task.id, slot.key, args.value, args.tool), shop)
    return 0


def done(args: Namespace) -> int:
    """Say a task is done."""
    shop = shop_of(args)
    act(args, FinishTask(task_of(card_of(shop, args), args.task).id, args.note), shop)
    return 0


def leave_out(args: Namespace) -> int:
    """Leave a task out."""
    shop = shop_of(args)
    act(args, LeaveOut(task_of(card_of(shop, args), args.task).id, args.reason), shop)
    return 0


def take_back(args: Namespace) -> int:
    """Take back done or left out."""
    shop = shop_of(args)
    act(args, ReopenTask(task_of(card_of(shop, args), args.task).id), shop)
    return 0


def second(args: Namespace) -> int:
    """Sign as the second person."""
    shop = shop_of(args)
    act(args, SecondCheck(task_of(card_of(shop, args), args.task).id), shop)
    return 0


def finding(args: Namespace) -> int:
    """Write down a finding."""
    shop = shop_of(args)
    kept = AddFinding(
        card_of(shop, args).id,
        args.place,
        args.what,
        args.bad,
        args.takes,
        wanted=args.wanted,
        photo=args.photo,
    )
    act(args, kept, shop)
    return 0
