"""Invented bills with something of everything; people, makes, prices and account are made up.

The rich one, by hand, at 62.35 an hour in units of six minutes:

labour     0.4 h 24.94    0.7 h 43.645 up to 43.65    1.2 h 74.82, less 10 % 7.48: 67.34    135.93
parts      12.90    4 x 3.15 = 12.60    2.5 l x 7.333 = 18.3325 to 18.33    9.99 (zero)      53.82
surcharge  45.00 - 45.00 (old unit handed in)                                                 0.00
outwork    86.50                                                                             86.50
sundries   6.80                                                                               6.80
fee        54.85 (exempt)                                                                    54.85
together                                                                                    337.90
off        5.00 at 20 %, on 2.50 at 20 %
20 %       135.93 + 43.83 + 0.00 + 86.50 + 6.80 - 5.00 + 2.50 = 270.56, tax 54.112 to         54.11
zero 9.99 and exempt 54.85, no tax
without VAT 337.90 - 5.00 + 2.50                                                            335.40
with VAT                                                                                    389.51
paid       100.00 + 50.00                                                                   150.00
rounding   -0.01
due                                                                                         239.50

The IBAN is the example of the registry of ISO 13616-1 for the United Kingdom.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopcli.shop.bill import Bill, BillAllowance, BillGroup, BillLine, BillPayment, Party
from shopcli.shop.money import Allowance, Line, total

D = Decimal
IBAN = "GB29NWBK60161331926819"
SELLER = Party(
    "Brook Lane Motor Works",
    ("12 Brook Lane",),
    "Little Marling",
    "XX1 1XX",
    "GB",
    "GB123456789",
    "",
    "01632 960111",
    "bench@brooklane.example",
)
BUYER = Party("Mrs. Zoë Fenwick-Harrowgate", ("3 Mill Street",), "Nether Wallop End", "XX9 9XX", "GB")
STANDARD, ZERO, EXEMPT = ("standard", D(20), "S"), ("zero", D(0), "Z"), ("roadworthiness fee", D(0), "E")
ZERO_SUM = D("0.00")
REASON = "A fee handed on as it was paid, outside what we charge for; ask your accountant."


def line(
    key: str,
    kind: str,
    text: str,
    qty: str,
    unit: str,
    price: str,
    rate: tuple[str, Decimal, str],
    **more: object,
) -> BillLine:
    """Return a line with its net from the calculator."""
    off, on = more.get("allowance", D(0)), more.get("charge", D(0))
    ours = Line(key, kind, text, D(qty), unit, D(price), *rate, off, on)
    return BillLine(key, kind, text, D(qty), unit, D(price), ours.base_qty, ours.net, *rate, **more)


LINES = (
    line("1", "labour", "Drain the oil, renew the filter, refill", "0.4", "h", "62.35", STANDARD),
    line("2", "labour", "Renew and set the contact points", "0.7", "h", "62.35", STANDARD),
    line(
        "3",
        "labour",
        "Adjust the valve clearances",
        "1.2",
        "h",
        "62.35",
        STANDARD,
        allowance=D("7.48"),
        allowance_percent=D(10),
        allowance_reason="Done again within the year",
    ),
    line("4", "part", "Contact set", "1", "pc", "12.90", STANDARD, note="Serial number 0815"),
    line("5", "part", "Sparking plug", "4", "pc", "3.15", STANDARD),
    line("6", "part", "Engine oil 20W-50", "2.5", "l", "7.333", STANDARD),
    line("7", "part", "Owner's handbook, reprint", "1", "pc", "9.99", ZERO),
    line("8", "surcharge", "Exchange surcharge: distributor", "1", "pc", "45", STANDARD),
    line("9", "surcharge", "Old distributor handed in", "-1", "pc", "45", STANDARD),
    line("10", "outwork", "Skim a pair of brake drums", "1", "pc", "86.50", STANDARD),
    line("11", "sundry", "Sundries, 5 % of labour", "1", "pc", "6.80", STANDARD),
    line("12", "fee", "Roadworthiness test, as paid", "1", "pc", "54.85", EXEMPT),
)


def bill(
    lines: tuple[BillLine, ...],
    allowances: tuple[BillAllowance, ...] = (),
    payments: tuple[BillPayment, ...] = (),
    rounding: Decimal = ZERO_SUM,
    reasons: dict[str, str] | None = None,
    **more: object,
) -> Bill:
    """Return a bill with its sums from the calculator."""
    off, on = (
        [Allowance(a.amount, a.percent, a.category, a.vat) for a in allowances if a.charge == c]
        for c in (0, 1)
    )
    sums = total(
        lines, allowances=off, charges=on, paid=sum((p.amount for p in payments), D(0)), rounding=rounding
    )
    groups = tuple(
        BillGroup(g.vat, g.category, g.percent, g.basis, g.tax, (reasons or {}).get(g.category, ""))
        for g in sums.groups
    )
    facts: dict[str, object] = {
        "kind": "invoice",
        "number": "INV-000123",
        "issued": date(2026, 11, 27),
        "due_by": date(2026, 12, 11),
        "supplied": date(2026, 11, 26),
        "currency": "GBP",
        "seller": SELLER,
        "buyer": BUYER,
        "card": "J00012",
        "vehicle": "LRK 61A, Lark 1200 1961",
        "odometer": "54,320 mi",
        "order": "OF-000007",
        "terms": "Fourteen days, without deduction.",
        "iban": IBAN,
        "bic": "NWBKGB2L",
        "account_name": "Brook Lane Motor Works",
    }
    return Bill(
        **(facts | more),
        lines=lines,
        allowances=allowances,
        groups=groups,
        payments=payments,
        line_net=sums.line_net,
        allowance_sum=sums.allowances,
        charge_sum=sums.charges,
        without_vat=sums.without_vat,
        tax=sums.vat,
        with_vat=sums.with_vat,
        paid=sums.paid,
        rounding=sums.rounding,
        due=sums.due,
    )


def rich() -> Bill:
    """Return the bill of the sums above."""
    return bill(
        LINES,
        (
            BillAllowance(False, D("5.00"), "standard", D(20), "S", "Kept waiting", D("100.00"), D(5)),
            BillAllowance(True, D("2.50"), "standard", D(20), "S", "Card fee"),
        ),
        (
            BillPayment("deposit", D("100.00"), "card", date(2026, 11, 12)),
            BillPayment("payment", D("50.00"), "cash", date(2026, 11, 26)),
        ),
        D("-0.01"),
        {"E": REASON},
        notes=("Please look at the wheel nuts again after 50 miles.",),
        rounding_rule="Each line and the VAT of each rate are rounded to the penny, halves up.",
    )


def credit() -> Bill:
    """Return a credit note for two of its lines."""
    lines = tuple(replace(x, id=str(n)) for n, x in enumerate((LINES[1], LINES[3]), 1))
    return bill(
        lines,
        kind="credit note",
        number="CN-000004",
        issued=date(2026, 12, 3),
        due_by=None,
        order="",
        corrects="INV-000123",
        corrects_issued=date(2026, 11, 27),
        why="The contact set was the wrong one and has come back.",
        terms="",
    )


def many(count: int) -> Bill:
    """Return a bill that goes over several pages."""
    lines = tuple(
        line(
            str(n),
            ("labour", "part", "outwork")[n * 3 // (count + 1)],
            f"Item number {n} of the list",
            "1.5",
            "h" if n * 3 // (count + 1) == 0 else "pc",
            f"{n}.10",
            STANDARD,
        )
        for n in range(1, count + 1)
    )
    return bill(lines)
