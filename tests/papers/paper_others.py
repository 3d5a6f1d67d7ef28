"""An invented offer, receipt, statement and vehicle history; people, makes, prices and account are made up.

The statement by hand: 120.00 open, 389.51 charged: 509.51, 150.00 paid: 359.51, 67.86 credited: 291.65.
"""

from datetime import date
from decimal import Decimal

from shopcli.shop.bill import Bill
from shopcli.shop.offer_view import OfferJob, OfferPaper
from shopcli.shop.paper_views import (
    AgeBand,
    HistoryReading,
    HistoryView,
    HistoryVisit,
    ReceiptView,
    StatementLine,
    StatementView,
)
from tests.papers.paper_bill import BUYER, IBAN, SELLER, bill, line, rich
from tests.papers.paper_summary import FINDINGS, READINGS

D = Decimal


def offer() -> OfferPaper:
    """Return an offer of two jobs, its money that of a bill of the same lines."""
    rate = ("standard", D(20), "S")
    one: Bill = bill(
        (
            line("1", "labour", "Engine service", "2.3", "h", "62.35", rate),
            line("2", "labour", "Renew the front brake hoses", "1.5", "h", "62.35", rate),
            line("3", "part", "Brake hose", "2", "pc", "18.40", rate),
            line("4", "outwork", "Skim a pair of brake drums", "1", "pc", "86.50", rate),
        )
    )
    return OfferPaper(
        number="OF00007",
        made=date(2026, 11, 20),
        valid_until=date(2026, 12, 20),
        currency="GBP",
        seller=SELLER,
        buyer=BUYER,
        card="J00012",
        vehicle=one.vehicle,
        odometer=one.odometer,
        words="Runs rough when warm, pulls to the left.",
        jobs=(
            OfferJob("Engine service", D("2.3"), D("3.1")),
            OfferJob("Front brake hoses", D("1.5"), D("2.2")),
        ),
        hours=D("3.8"),
        hours_80=D("4.9"),
        lines=one.lines,
        allowances=(),
        groups=one.groups,
        line_net=one.line_net,
        without_vat=one.without_vat,
        tax=one.tax,
        with_vat=one.with_vat,
        with_vat_80=D("514.20"),
        ready="by Friday 4 December, four times in five",
        allows=(
            "The work named here, up to £514.20 with VAT.",
            "Before anything goes beyond that sum we ask again.",
        ),
        notes=("Seized bleed nipples are not reckoned with.",),
    )


def receipt() -> ReceiptView:
    """Return a receipt for a part payment."""
    return ReceiptView(
        number="R-000031",
        on=date(2026, 11, 28),
        currency="GBP",
        seller=SELLER,
        payer=BUYER,
        kind="payment",
        method="card",
        amount=D("100.00"),
        towards="invoice INV-000123",
        vehicle="LRK 61A, Lark 1200 1961",
        total=D("389.51"),
        paid_before=D("150.00"),
        left=D("139.51"),
        taken_by="J. Ash",
    )


def statement() -> StatementView:
    """Return a statement over a month."""
    return StatementView(
        seller=SELLER,
        buyer=BUYER,
        currency="GBP",
        made=date(2026, 12, 5),
        first=date(2026, 11, 1),
        last=date(2026, 12, 4),
        opening=D("120.00"),
        lines=(
            StatementLine(date(2026, 11, 27), "INV-000123", "Card J00012", D("389.51"), D(0), D("509.51")),
            StatementLine(date(2026, 11, 28), "R-000031", "payment, card", D(0), D("150.00"), D("359.51")),
            StatementLine(
                date(2026, 12, 3), "CN-000004", "answers INV-000123", D(0), D("67.86"), D("291.65")
            ),
        ),
        closing=D("291.65"),
        ages=(AgeBand("0 to 30 days", D("171.65")), AgeBand("31 to 60 days", D("120.00"))),
        iban=IBAN,
        bic="NWBKGB2L",
        account_name="Brook Lane Motor Works",
        terms="Fourteen days, without deduction.",
    )


def history() -> HistoryView:
    """Return the story of a vehicle over two visits."""
    gap = READINGS[0]
    return HistoryView(
        seller=SELLER,
        made=date(2026, 12, 5),
        registration="LRK 61A",
        vehicle="Lark 1200 1961",
        about=(("Chassis", "L12-004711"), ("Engine", "E4711")),
        visits=(
            HistoryVisit(
                "J00012",
                date(2026, 11, 12),
                date(2026, 11, 27),
                "closed",
                "54,320 mi",
                "Engine service",
                "Runs rough when warm.",
                ("Renew and set the contact points", "Adjust the valve clearances"),
                ("1 Contact set", "4 Sparking plug"),
                rich().number,
            ),
            HistoryVisit("J00003", date(2025, 6, 2), None, "held", "51,004 mi", "Brakes", "", (), ()),
        ),
        readings=(
            HistoryReading(date(2026, 11, 20), "J00012", gap),
            HistoryReading(date(2025, 6, 3), "J00003", gap),
            HistoryReading(date(2026, 11, 20), "J00012", READINGS[1]),
        ),
        findings=FINDINGS,
    )
