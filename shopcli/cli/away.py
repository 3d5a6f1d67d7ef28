"""Who was away: listed, noted, withdrawn. And the tables of the week, written anew when they are out of step."""

from argparse import Namespace

from shopcli.cli.common import act, clean, print_json, shop_of, table
from shopcli.cli.opening import signed_in
from shopcli.errors import BadInput, Refused
from shopcli.shop.absence_commands import NoteAbsence, WithdrawAbsence
from shopcli.shop.week_rights import HOURS, sees
from shopcli.store.reads.absences import absences
from shopcli.store.reads.people import person


def away(args: Namespace) -> int:
    """List who was or is away, note an absence, or withdraw one."""
    shop = shop_of(args)
    if args.withdraw is not None:
        act(args, WithdrawAbsence(args.withdraw), shop)
        return 0
    if args.name:
        if not args.first:
            raise BadInput(
                "away since when?", hint="Write the first day, then the last: 2026-12-24 2026-12-28"
            )
        someone = person(shop, args.name).id
        act(args, NoteAbsence(someone, args.first, args.last, args.minutes, args.why), shop)
        return 0
    if HOURS not in sees(signed_in(shop, args).role):
        raise Refused("who was away is for the owner", hint="Ask the owner.")
    found = absences(shop)
    if args.json:
        print_json(found)
        return 0
    rows = [
        (str(a.id), a.person, a.first.isoformat(), a.last.isoformat(), _much(a.minutes), a.why) for a in found
    ]
    heads = ("number", "who", "first day", "last day", "of each", "why")
    print(clean(table(heads, rows, right=(0,)) if rows else "Nobody was away."))
    return 0


def _much(minutes: int | None) -> str:
    return "whole day" if minutes is None else f"{minutes} min"


def reckon_weeks(args: Namespace) -> int:
    """Write what the week is read from anew, and say what was out of step."""
    from shopcli.shop.week_check import out_of_step

    shop = shop_of(args)
    wrong = out_of_step(shop.fetch, shop.settings.tz())
    shop.reckon_weeks()
    for line in wrong:
        print(clean(f"! {line}"))
    left = out_of_step(shop.fetch, shop.settings.tz())
    print("The week was in step with the records." if not wrong else f"Reckoned anew; {len(left)} left.")
    return 1 if left else 0
