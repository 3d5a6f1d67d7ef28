"""Commands about money: what goes on a bill and off it, credit notes, payments, who owes what."""

from argparse import Namespace
from datetime import date
from decimal import Decimal, InvalidOperation

from shopcli.cli.common import act, card_of, clean, minor, print_json, shop_of, table
from shopcli.cli.parts import milli
from shopcli.errors import BadInput
from shopcli.present import money
from shopcli.shop.money_commands import (
    AddToBill,
    CreditInvoice,
    DropDiscount,
    GiveDiscount,
    Refund,
    ReversePayment,
    TakeOffBill,
    TakePayment,
)
from shopcli.store.reads.accounts import ages, unsettled
from shopcli.store.reads.bill_now import bill_now


def pay(args: Namespace) -> int:
    """Take money."""
    shop = shop_of(args)
    card = card_of(shop, args)
    kind = "payment" if card.state == "closed" else "deposit"
    act(args, TakePayment(card.id, minor(args.amount, "amount"), kind, args.method, over=args.over), shop)
    return 0


def refund(args: Namespace) -> int:
    """Give money back."""
    shop = shop_of(args)
    command = Refund(card_of(shop, args).id, minor(args.amount, "amount"), args.reason, args.method)
    act(args, command, shop)
    return 0


def reverse(args: Namespace) -> int:
    """Answer a wrong payment by its opposite."""
    act(args, ReversePayment(args.payment, args.reason))
    return 0


def extra(args: Namespace) -> int:
    """Put a sundry or a fee on a bill."""
    shop = shop_of(args)
    price, qty = minor(args.price, "price"), milli(args.qty)
    act(args, AddToBill(card_of(shop, args).id, args.kind, args.what, price, qty, args.vat), shop)
    return 0


def off_bill(args: Namespace) -> int:
    """Take a sundry, a fee or a discount off a bill by the sign `bill` shows."""
    kind, key = args.sign[:1].upper(), args.sign[1:]
    if kind not in {"I", "D"} or not key.isdigit():
        raise BadInput(
            f"'{args.sign[:20]}' is no sundry, fee or discount",
            hint="`bill` shows their signs, like I3 or D2.",
        )
    act(args, TakeOffBill(int(key)) if kind == "I" else DropDiscount(int(key)))
    return 0


def discount(args: Namespace) -> int:
    """Take something off a line or the whole."""
    shop = shop_of(args)
    card_id = card_of(shop, args).id
    text = args.amount.strip()
    if text.endswith("%"):
        command = GiveDiscount(
            card_id, args.reason, args.line, rate_hundredths=_hundredths(text[:-1]), charge=args.charge
        )
    else:
        command = GiveDiscount(card_id, args.reason, args.line, minor(text, "discount"), charge=args.charge)
    act(args, command, shop)
    return 0


def _hundredths(text: str) -> int:
    try:
        value = Decimal(text.strip()) * 100
    except InvalidOperation as error:
        raise BadInput(f"'{text[:20]}' is no per cent", hint="Write it like 10% or 12.5%.") from error
    if value != value.to_integral_value():
        raise BadInput(f"'{text[:20]}' has more than two decimals")
    return int(value)


def bill(args: Namespace) -> int:
    """Show a card's bill as it stands, with the signs of its lines."""
    shop = shop_of(args)
    view = bill_now(shop, card_of(shop, args).id)
    if args.json:
        print_json(view)
        return 0
    rows = [
        (x.id, x.description, f"{x.qty.normalize():f} {x.unit}", x.price, x.allowance or "", x.net)
        for x in view.lines
    ]
    print(table(("", "what", "how much", "price", "off", "net"), rows, right=(2, 3, 4, 5)), end="")
    for one in view.discounts:
        where = f"line {one.line}" if one.line else "the whole"
        print(clean(f"D{one.id}  {'on' if one.charge else 'off'} {where}: {one.words} ({one.reason})"))
    for name, amount in view.foot:
        print(f"{name:<40}{money(amount, view.currency):>14}")
    return 0


def credit(args: Namespace) -> int:
    """Write a credit note."""
    shop = shop_of(args)
    lines = tuple((key, milli(qty) if qty else 0) for key, _, qty in (t.partition("=") for t in args.line))
    amount = minor(args.amount, "amount") if args.amount else 0
    act(args, CreditInvoice(card_of(shop, args).id, args.reason, lines, amount, args.vat), shop)
    return 0


def owing(args: Namespace) -> int:
    """List invoices that are not settled, with what is owed by age."""
    shop = shop_of(args)
    found = unsettled(shop)
    today: date = shop.local(shop.at()).date()
    if args.json:
        print_json({"unsettled": found, "ages": ages(found, today)})
        return 0
    currency = shop.settings.currency
    rows = [
        (
            one.number,
            one.card,
            one.customer,
            one.phone,
            one.due_by,
            max(one.days_past(today), 0) or "",
            money(one.due, currency),
        )
        for one in found
    ]
    print(
        table(("invoice", "card", "customer", "telephone", "due by", "days past", "due"), rows, right=(5, 6)),
        end="",
    )
    for band in ages(found, today):
        print(f"{band.words:<20}{money(band.amount, currency):>14}")
    return 0
