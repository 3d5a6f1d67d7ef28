"""An invented card with something of everything; people, makes and prices are made up.

The bill, by hand, at 62.35 an hour in units of six minutes:

labour     0.4 h 24.94    0.7 h 43.645 up to 43.65    1.2 h 74.82                  143.41
parts      12.90    4 x 3.15 = 12.60    2.5 L x 7.333 = 18.3325 to 18.33    9.99    53.82
surcharge  45.00 - 45.00 (old unit handed in)                                         0.00
outwork    86.50                                                                     86.50
postage    6.20                                                                       6.20
together                                                                            289.93
at 20 %    143.41 + 43.83 + 0.00 + 86.50 = 273.74, tax 54.748 up to                  54.75
zero and exempt 9.99 + 6.20, no tax
with VAT                                                                            344.68
paid       100.00 + 50.00                                                           150.00
due                                                                                 194.68
"""

from datetime import date
from decimal import Decimal

from shopcli.shop.views import (
    FindingView,
    OwedView,
    PartyView,
    PaymentView,
    PriceLine,
    ReadingLine,
    SummaryView,
    TotalsView,
    VatGroupView,
    WorkDone,
)

D = Decimal
STANDARD = ("standard", D(20), "S")
ZERO = ("zero", D(0), "Z")
EXEMPT = ("postage as paid", D(0), "E")
HOUR = D("62.35")

SHOP = PartyView(
    "Brook Lane Motor Works",
    ("12 Brook Lane", "Little Marling"),
    "01632 960111",
    "bench@brooklane.example",
    "GB 000 0000 00",
)
CUSTOMER = PartyView("Mrs. Zoë Fenwick-Harrowgate", ("3 Mill Street", "Nether Wallop End"), "01632 960222")

LINES = (
    PriceLine(
        "L1", "labour", "Drain the oil, renew the filter, refill", D("0.4"), "h", HOUR, D("24.94"), *STANDARD
    ),
    PriceLine("L2", "labour", "Renew and set the contact points", D("0.7"), "h", HOUR, D("43.65"), *STANDARD),
    PriceLine("L3", "labour", "Adjust the valve clearances", D("1.2"), "h", HOUR, D("74.82"), *STANDARD),
    PriceLine("P1", "part", "Contact set", D(1), "pc", D("12.90"), D("12.90"), *STANDARD),
    PriceLine("P2", "part", "Sparking plug", D(4), "pc", D("3.15"), D("12.60"), *STANDARD),
    PriceLine("P3", "part", "Engine oil 20W-50", D("2.5"), "L", D("7.333"), D("18.33"), *STANDARD),
    PriceLine("P4", "part", "Owner's handbook, reprint", D(1), "pc", D("9.99"), D("9.99"), *ZERO),
    PriceLine("X1", "surcharge", "Exchange surcharge: distributor", D(1), "pc", D(45), D("45.00"), *STANDARD),
    PriceLine("X2", "surcharge", "Old distributor handed in", D(-1), "pc", D(45), D("-45.00"), *STANDARD),
    PriceLine("O1", "outwork", "Skim a pair of brake drums", D(1), "pc", D("86.50"), D("86.50"), *STANDARD),
    PriceLine("F1", "postage", "Carriage of the drums", D(1), "pc", D("6.20"), D("6.20"), *EXEMPT),
)
TOTALS = TotalsView(
    line_net=D("289.93"),
    without_vat=D("289.93"),
    vat=D("54.75"),
    with_vat=D("344.68"),
    paid=D("150.00"),
    due=D("194.68"),
    groups=(
        VatGroupView("standard", "S", D(20), D("273.74"), D("54.75")),
        VatGroupView("postage as paid", "E", D(0), D("6.20"), D("0.00")),
        VatGroupView("zero", "Z", D(0), D("9.99"), D("0.00")),
    ),
)
HANDBOOK = "handbook: Lark 1200 owner's handbook, page 14"
READINGS = (
    ReadingLine("points gap", "points gap", "9 thou", "16 thou", "14 to 18 thou", "in limits", HANDBOOK),
    ReadingLine("dwell", "dwell", "62°", "52.5°", "49° to 55°", "in limits", HANDBOOK),
    ReadingLine("clearance", "valve 1 exhaust", "2 thou", "6 thou", "6 thou", "in limits", HANDBOOK),
    ReadingLine(
        "clearance", "valve 3 exhaust", "0", "5 thou", "6 thou", "low by 1 thou (limit 5.5 thou)", HANDBOOK
    ),
    ReadingLine("compression", "cylinder 2", "", "8,2 bar", "", "", ""),
    ReadingLine(
        "charge volts", "charge volts", "13.4 V", "14.15 V", "13.8 to 14.4 V", "in limits", "practice"
    ),
)
FINDINGS = (
    FindingView(
        1, "rear window seal", "weeps", "watch", "", "open", "J. Ash", date(2026, 11, 24), "2026-0147"
    ),
    FindingView(
        2,
        "engine bay",
        "fuel hose perished",
        "stop",
        "0.5 h and 1 m of hose",
        "open",
        "J. Ash",
        date(2026, 11, 24),
        "",
    ),
    FindingView(
        3, "gearbox", "drips", "soon", "a gasket", "declined", "M. Dale", date(2026, 11, 25), "2026-0147"
    ),
)
OWED = (
    OwedView(1, "Re-torque the head", "distance", 54820, date(2027, 3, 1), "owed", "", "", "", ""),
    OwedView(2, "Look for oil leaks", "hand-over", None, None, "owed", "", "", "", ""),
)


def rich() -> SummaryView:
    return SummaryView(
        shop=SHOP,
        customer=CUSTOMER,
        card="2026-0147",
        state="closed",
        invoice_number="1031",
        registration="LRK 61A",
        vehicle="Lark 1200 saloon, 1961",
        odometer="54,320 mi",
        opened=date(2026, 11, 23),
        closed=date(2026, 11, 27),
        title="Engine service and brakes",
        words="Runs rough when warm, and a smell of petrol after a long run.\nPlease ring before the brakes.",
        authority="up to 400.00 GBP, Mrs. Fenwick by telephone",
        currency="GBP",
        done=(
            WorkDone("Drain the oil, renew the filter, refill", "lubrication", "done"),
            WorkDone("Renew and set the contact points", "ignition", "done", "heel was worn flat"),
            WorkDone("Renew the ignition leads", "ignition", "left out", "declined by the customer"),
            WorkDone("Tighten the wheel nuts", "wheels", "done", "", "M. Dale"),
        ),
        readings=READINGS,
        labour_unit_minutes=6,
        lines=LINES,
        totals=TOTALS,
        payments=(
            PaymentView("deposit", D("100.00"), "card", date(2026, 11, 23)),
            PaymentView("payment", D("50.00"), "cash", date(2026, 11, 27)),
        ),
        findings=FINDINGS,
        owed=OWED,
        waived=(
            "reading valve 3 exhaust 5 thou: guide is worn, to be seen in spring (O. Reed, 27 Nov 2026)",
        ),
    )


def bare() -> SummaryView:
    """Return a card nothing has happened on yet."""
    nothing = D("0.00")
    return SummaryView(
        shop=PartyView("The shop"),
        customer=PartyView("A. Reed"),
        card="2026-0148",
        state="booked",
        invoice_number="",
        registration="",
        vehicle="",
        odometer="",
        opened=date(2026, 11, 27),
        closed=None,
        title="",
        words="",
        authority="",
        currency="CHF",
        done=(),
        readings=(),
        labour_unit_minutes=6,
        lines=(),
        totals=TotalsView(nothing, nothing, nothing, nothing, nothing, nothing, ()),
        payments=(),
        findings=(),
        owed=(),
        waived=(),
    )
