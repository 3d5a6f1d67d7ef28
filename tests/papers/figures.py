"""Reads the figures back out of finished papers, each in its own way, knowing nothing of how they were made."""

import re
from dataclasses import dataclass
from decimal import Decimal
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import pypdfium2

from shopcli.shop.bill import Bill

D = Decimal
_AMOUNT = re.compile(r"(-?)[^\d\s-]*\s?(-?)((?:\d{1,3},)*\d+\.\d\d)$")
_EDGE_PT = 4.0  # how near to the right edge of the print the last column ends
_MARGIN_PT = 18 / 25.4 * 72
_CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
_CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
_RAM = "{urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100}"


def amount(text: str) -> Decimal | None:
    """Return the amount a text ends with, None when it ends otherwise."""
    found = _AMOUNT.search(text.strip().replace("\u00a0", " "))
    if not found:
        return None
    sign = -1 if "-" in found[1] + found[2] else 1
    return sign * D(found[3].replace(",", ""))


def expected(bill: Bill) -> list[Decimal]:
    """Return the last column of the paper of a bill, from top to bottom."""
    kinds = ("labour", "part", "surcharge", "outwork", "sundry", "fee")
    column: list[Decimal] = []
    for kind in kinds:
        nets = [x.net for x in bill.lines if x.kind == kind]
        column += nets + ([sum(nets)] if len(nets) > 1 else [])
    column += [a.amount if a.charge else -a.amount for a in bill.allowances]
    column += [g.tax for g in bill.groups]
    column.append(bill.line_net)
    column += [-bill.allowance_sum] if bill.allowance_sum else []
    column += [bill.charge_sum] if bill.charge_sum else []
    if bill.allowance_sum or bill.charge_sum:
        column.append(bill.without_vat)
    column += [bill.tax, bill.with_vat, *(-p.amount for p in bill.payments)]
    column += [bill.rounding] if bill.rounding else []
    return [*column, bill.due if bill.kind == "credit note" else abs(bill.due)]


def of_text(text: str) -> list[Decimal]:
    """Return what the lines of a typewritten paper end with; what hangs below a line is no column."""
    lines = [x for x in text.splitlines() if not re.match(r" {4}\S", x)]
    return [a for a in map(amount, lines) if a is not None]


class _Rows(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.last: list[str] = []
        self.cells: list[str] = []
        self.inside = False

    def handle_starttag(self, tag, attrs):
        if tag == "tr":
            self.cells = []
        if tag == "td":
            self.inside = "n" in (dict(attrs).get("class") or "").split()
            self.cells.append("")

    def handle_endtag(self, tag):
        if tag == "td":
            self.inside = False
        if tag == "tr" and self.cells:
            self.last.append(self.cells[-1])

    def handle_data(self, data):
        if self.inside:
            self.cells[-1] += data


def of_html(html: str) -> list[Decimal]:
    """Return the last cells of the rows, where they are figures."""
    rows = _Rows()
    rows.feed(html)
    return [a for a in map(amount, rows.last) if a is not None]


def of_pdf(content: bytes) -> list[Decimal]:
    """Return the amounts that end at the right edge of the print, by where the ink is."""
    found = []
    for page in pypdfium2.PdfDocument(content):
        text, edge = page.get_textpage(), page.get_width() - _MARGIN_PT
        rects = [text.get_rect(n) for n in range(text.count_rects())]
        column = sorted(
            (r for r in rects if edge - 2 * _EDGE_PT < r[2] < edge + _EDGE_PT), key=lambda r: -r[3]
        )
        found += [amount(text.get_text_bounded(*r)) for r in column]
    return [a for a in found if a is not None]


@dataclass(frozen=True)
class Read:
    """What an e-invoice says, in the terms of the standard."""

    kind: str  # BT-3
    number: str  # BT-1
    lines: tuple[tuple[Decimal, Decimal, Decimal, Decimal], ...]  # BT-129, BT-146, BT-149, BT-131
    allowances: tuple[tuple[bool, Decimal], ...]
    groups: tuple[tuple[str, Decimal, Decimal, str], ...]  # BT-118, BT-116, BT-117, BT-120
    sums: tuple[Decimal, ...]  # BT-106 … BT-115


def of_bill(bill: Bill) -> Read:
    """Return the same of the bill itself."""
    return Read(
        {"invoice": "380", "credit note": "381"}[bill.kind],
        bill.number,
        tuple((x.qty, x.price, D(x.base_qty), x.net) for x in bill.lines),
        tuple((a.charge, a.amount) for a in bill.allowances),
        tuple((g.category, g.basis, g.tax, g.reason) for g in bill.groups),
        (
            bill.line_net,
            bill.allowance_sum,
            bill.charge_sum,
            bill.without_vat,
            bill.tax,
            bill.with_vat,
            bill.paid,
            bill.rounding,
            bill.due,
        ),
    )


def of_cii(content: bytes) -> Read:
    """Read a CII document."""
    root = ET.fromstring(content)

    def at(node: ET.Element, path: str) -> str:
        return (
            node.findtext("/".join(f"{_RAM}{p}" if p != "." else p for p in path.split("/"))) or ""
        ).strip()

    document = next(e for e in root if e.tag.endswith("ExchangedDocument"))
    header = next(root.iter(f"{_RAM}ApplicableHeaderTradeSettlement"))
    sums = header.find(f"{_RAM}SpecifiedTradeSettlementHeaderMonetarySummation")
    names = (
        "LineTotal",
        "AllowanceTotal",
        "ChargeTotal",
        "TaxBasisTotal",
        "TaxTotal",
        "GrandTotal",
        "TotalPrepaid",
    )
    figures = [*(f"{n}Amount" for n in names), "RoundingAmount", "DuePayableAmount"]
    lines = []
    for item in root.iter(f"{_RAM}IncludedSupplyChainTradeLineItem"):
        price = "SpecifiedLineTradeAgreement/NetPriceProductTradePrice/"
        total = "SpecifiedLineTradeSettlement/SpecifiedTradeSettlementLineMonetarySummation/LineTotalAmount"
        paths = (
            "SpecifiedLineTradeDelivery/BilledQuantity",
            price + "ChargeAmount",
            price + "BasisQuantity",
            total,
        )
        lines.append(tuple(D(at(item, p)) for p in paths))
    return Read(
        at(document, "TypeCode"),
        at(document, "ID"),
        tuple(lines),
        tuple(
            ("".join(e.find(f"{_RAM}ChargeIndicator").itertext()).strip() == "true", D(at(e, "ActualAmount")))
            for e in header.findall(f"{_RAM}SpecifiedTradeAllowanceCharge")
        ),
        tuple(
            (
                at(e, "CategoryCode"),
                D(at(e, "BasisAmount")),
                D(at(e, "CalculatedAmount")),
                at(e, "ExemptionReason"),
            )
            for e in header.findall(f"{_RAM}ApplicableTradeTax")
        ),
        tuple(D(at(sums, n) or "0") for n in figures),
    )


def of_ubl(content: bytes) -> Read:
    """Read a UBL document."""
    root = ET.fromstring(content)

    def at(node: ET.Element, path: str) -> str:
        *way, last = path.split("/")
        return (node.findtext("/".join([*(_CAC + p for p in way), _CBC + last])) or "").strip()

    credit = root.tag.endswith("CreditNote")
    quantity = "CreditedQuantity" if credit else "InvoicedQuantity"
    total = root.find(f"{_CAC}LegalMonetaryTotal")
    names = ("LineExtension", "AllowanceTotal", "ChargeTotal", "TaxExclusive", "TaxInclusive", "Prepaid")
    line_net, off, on, without, with_vat, paid = (D(at(total, f"{n}Amount") or "0") for n in names)
    rounding, due = D(at(total, "PayableRoundingAmount") or "0"), D(at(total, "PayableAmount"))
    return Read(
        at(root, "CreditNoteTypeCode" if credit else "InvoiceTypeCode"),
        at(root, "ID"),
        tuple(
            tuple(
                D(at(e, p))
                for p in (quantity, "Price/PriceAmount", "Price/BaseQuantity", "LineExtensionAmount")
            )
            for e in root.findall(f"{_CAC}{'CreditNoteLine' if credit else 'InvoiceLine'}")
        ),
        tuple(
            (at(e, "ChargeIndicator") == "true", D(at(e, "Amount")))
            for e in root.findall(f"{_CAC}AllowanceCharge")
        ),
        tuple(
            (
                at(e, "TaxCategory/ID"),
                D(at(e, "TaxableAmount")),
                D(at(e, "TaxAmount")),
                at(e, "TaxCategory/TaxExemptionReason"),
            )
            for e in root.findall(f"{_CAC}TaxTotal/{_CAC}TaxSubtotal")
        ),
        (line_net, off, on, without, D(at(root, "TaxTotal/TaxAmount")), with_vat, paid, rounding, due),
    )
