"""A bill as UN/CEFACT Cross Industry Invoice (D16B): the syntax Factur-X puts into a PDF.

The comments of `shopcli.shop.bill` say which business term of EN 16931-1 each value is; the order of the
elements is the schema's.
"""

from datetime import date
from typing import TYPE_CHECKING

from shopcli.papers.einvoice_check import check_einvoice
from shopcli.papers.einvoice_codes import (
    CHARGE,
    CREDIT_NOTE,
    DISCOUNT,
    OBJECT,
    OUT_OF_SCOPE,
    PROFILE,
    REASON_CODES,
    TYPES,
    UNDEFINED,
    gross,
    notes,
    payment_means,
    terms,
    unit_code,
    unit_said,
)
from shopcli.papers.einvoice_xml import Writer, cents, number
from shopcli.shop.amounts import half_up
from shopcli.shop.bill import Bill, BillAllowance, BillGroup, BillLine, Party

if TYPE_CHECKING:
    from lxml.etree import _Element

_CII = "urn:un:unece:uncefact:data:standard:"
SPACES: dict[str | None, str] = {
    "rsm": _CII + "CrossIndustryInvoice:100",
    "ram": _CII + "ReusableAggregateBusinessInformationEntity:100",
    "udt": _CII + "UnqualifiedDataType:100",
    "qdt": _CII + "QualifiedDataType:100",
}
ADDRESS_LINES = ("ram:LineOne", "ram:LineTwo", "ram:LineThree")


def bill_cii(bill: Bill) -> bytes:
    """Return a bill as a CII document.

    Raises
    ------
    NotComplete
        If the standard asks for something the bill does not have.
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_einvoice(bill)
    w = Writer("rsm:CrossIndustryInvoice", SPACES)
    context = w.node(
        w.node(w.root, "rsm:ExchangedDocumentContext"), "ram:GuidelineSpecifiedDocumentContextParameter"
    )
    w.put(context, "ram:ID", PROFILE)
    _document(w, bill)
    deal = w.node(w.root, "rsm:SupplyChainTradeTransaction")
    for line in bill.lines:
        _line(w, deal, line)
    _agreement(w, deal, bill)
    _delivery(w, deal, bill)
    _settlement(w, w.node(deal, "ram:ApplicableHeaderTradeSettlement"), bill)
    return w.content()


def _document(w: Writer, bill: Bill) -> None:
    document = w.node(w.root, "rsm:ExchangedDocument")
    w.put(document, "ram:ID", bill.number)
    w.put(document, "ram:TypeCode", TYPES[bill.kind])
    _day(w, document, "ram:IssueDateTime", bill.issued)
    for text in notes(bill):
        w.put(w.node(document, "ram:IncludedNote"), "ram:Content", text)


def _day(w: Writer, parent: "_Element", tag: str, day: date, inner: str = "udt:DateTimeString") -> None:
    w.put(w.node(parent, tag), inner, f"{day:%Y%m%d}", format="102")


def _line(w: Writer, deal: "_Element", line: BillLine) -> None:
    item = w.node(deal, "ram:IncludedSupplyChainTradeLineItem")
    document = w.node(item, "ram:AssociatedDocumentLineDocument")
    w.put(document, "ram:LineID", line.id)
    if said := "; ".join(filter(None, (line.note, unit_said(line.unit)))):
        w.put(w.node(document, "ram:IncludedNote"), "ram:Content", said)
    w.put(w.node(item, "ram:SpecifiedTradeProduct"), "ram:Name", line.description.strip() or line.kind)
    price = w.node(w.node(item, "ram:SpecifiedLineTradeAgreement"), "ram:NetPriceProductTradePrice")
    w.put(price, "ram:ChargeAmount", number(line.price))
    w.put(price, "ram:BasisQuantity", str(line.base_qty), unitCode=unit_code(line.unit))
    delivery = w.node(item, "ram:SpecifiedLineTradeDelivery")
    w.put(delivery, "ram:BilledQuantity", number(line.qty), unitCode=unit_code(line.unit))
    settlement = w.node(item, "ram:SpecifiedLineTradeSettlement")
    _tax_of(w, w.node(settlement, "ram:ApplicableTradeTax"), line)
    if line.allowance:
        off = w.node(settlement, "ram:SpecifiedTradeAllowanceCharge")
        w.put(w.node(off, "ram:ChargeIndicator"), "udt:Indicator", "false")
        if line.allowance_percent is not None:
            w.put(off, "ram:CalculationPercent", number(line.allowance_percent))
            w.put(off, "ram:BasisAmount", cents(gross(line)))
        w.put(off, "ram:ActualAmount", cents(line.allowance))
        w.put(off, "ram:ReasonCode", DISCOUNT[0])
        w.put(off, "ram:Reason", line.allowance_reason or DISCOUNT[1])
    if line.charge:
        on = w.node(settlement, "ram:SpecifiedTradeAllowanceCharge")
        w.put(w.node(on, "ram:ChargeIndicator"), "udt:Indicator", "true")
        w.put(on, "ram:ActualAmount", cents(line.charge))
        w.put(on, "ram:ReasonCode", CHARGE[0])
        w.put(on, "ram:Reason", line.charge_reason or CHARGE[1])
    sums = w.node(settlement, "ram:SpecifiedTradeSettlementLineMonetarySummation")
    w.put(sums, "ram:LineTotalAmount", cents(line.net))


def _tax_of(w: Writer, tax: "_Element", item: BillLine | BillAllowance) -> None:
    w.put(tax, "ram:TypeCode", "VAT")
    w.put(tax, "ram:CategoryCode", item.category)
    if item.category != OUT_OF_SCOPE:
        w.put(tax, "ram:RateApplicablePercent", number(item.percent))


def _agreement(w: Writer, deal: "_Element", bill: Bill) -> None:
    agreement = w.node(deal, "ram:ApplicableHeaderTradeAgreement")
    in_scope = {g.category for g in bill.groups} != {OUT_OF_SCOPE}
    _party(w, w.node(agreement, "ram:SellerTradeParty"), bill.seller, in_scope=in_scope, seller=True)
    _party(w, w.node(agreement, "ram:BuyerTradeParty"), bill.buyer, in_scope=in_scope, seller=False)
    if bill.order:
        w.put(w.node(agreement, "ram:BuyerOrderReferencedDocument"), "ram:IssuerAssignedID", bill.order)
    if bill.card:
        reference = w.node(agreement, "ram:AdditionalReferencedDocument")
        w.put(reference, "ram:IssuerAssignedID", bill.card)
        w.put(reference, "ram:TypeCode", OBJECT)


def _party(w: Writer, node: "_Element", party: Party, *, in_scope: bool, seller: bool) -> None:
    if seller and not in_scope:
        w.put(node, "ram:ID", party.tax_number)
    w.put(node, "ram:Name", party.name)
    if party.phone or party.email:
        contact = w.node(node, "ram:DefinedTradeContact")
        w.put(contact, "ram:PersonName", party.name)
        if party.phone:
            w.put(w.node(contact, "ram:TelephoneUniversalCommunication"), "ram:CompleteNumber", party.phone)
        if party.email:
            w.put(w.node(contact, "ram:EmailURIUniversalCommunication"), "ram:URIID", party.email)
    address = w.node(node, "ram:PostalTradeAddress")
    w.put(address, "ram:PostcodeCode", party.post_code)
    for tag, text in zip(ADDRESS_LINES, three_lines(party), strict=False):
        w.put(address, tag, text)
    w.put(address, "ram:CityName", party.city)
    w.put(address, "ram:CountryID", party.country.upper())
    if party.vat_number and in_scope:
        w.put(w.node(node, "ram:SpecifiedTaxRegistration"), "ram:ID", close(party.vat_number), schemeID="VA")
    if party.tax_number and seller:
        w.put(w.node(node, "ram:SpecifiedTaxRegistration"), "ram:ID", party.tax_number, schemeID="FC")


def three_lines(party: Party) -> tuple[str, ...]:
    """Return the address in the three lines the standard has."""
    first, rest = party.address[:2], party.address[2:]
    return (*first, ", ".join(rest)) if rest else first


def close(number_: str) -> str:
    """Return a number without the blanks it is printed with."""
    return "".join(number_.split())


def _delivery(w: Writer, deal: "_Element", bill: Bill) -> None:
    delivery = w.node(deal, "ram:ApplicableHeaderTradeDelivery")
    if any(g.category == "K" for g in bill.groups):
        address = w.node(w.node(delivery, "ram:ShipToTradeParty"), "ram:PostalTradeAddress")
        w.put(address, "ram:CountryID", bill.buyer.country.upper())
    if bill.supplied:
        _day(
            w, w.node(delivery, "ram:ActualDeliverySupplyChainEvent"), "ram:OccurrenceDateTime", bill.supplied
        )


def _settlement(w: Writer, node: "_Element", bill: Bill) -> None:
    credit = bill.kind == CREDIT_NOTE
    if not credit:
        w.put(node, "ram:PaymentReference", bill.number)
    w.put(node, "ram:InvoiceCurrencyCode", bill.currency)
    if not credit:
        _means(w, node, bill)
    for group in bill.groups:
        _group(w, w.node(node, "ram:ApplicableTradeTax"), group)
    for allowance in bill.allowances:
        _allowance(w, w.node(node, "ram:SpecifiedTradeAllowanceCharge"), allowance)
    said = terms(bill)
    if said or (bill.due_by and not credit):
        pay = w.node(node, "ram:SpecifiedTradePaymentTerms")
        w.put(pay, "ram:Description", said)
        if bill.due_by and not credit:
            _day(w, pay, "ram:DueDateDateTime", bill.due_by)
    _sums(w, w.node(node, "ram:SpecifiedTradeSettlementHeaderMonetarySummation"), bill)
    if bill.corrects:
        before = w.node(node, "ram:InvoiceReferencedDocument")
        w.put(before, "ram:IssuerAssignedID", bill.corrects)
        if bill.corrects_issued:
            _day(w, before, "ram:FormattedIssueDateTime", bill.corrects_issued, "qdt:DateTimeString")


def _means(w: Writer, node: "_Element", bill: Bill) -> None:
    means = w.node(node, "ram:SpecifiedTradeSettlementPaymentMeans")
    code = payment_means(bill)
    w.put(means, "ram:TypeCode", code)
    if code == UNDEFINED:
        return
    account = w.node(means, "ram:PayeePartyCreditorFinancialAccount")
    w.put(account, "ram:IBANID", close(bill.iban))
    w.put(account, "ram:AccountName", bill.account_name)
    if bill.bic:
        bank = w.node(means, "ram:PayeeSpecifiedCreditorFinancialInstitution")
        w.put(bank, "ram:BICID", close(bill.bic))


def _group(w: Writer, tax: "_Element", group: BillGroup) -> None:
    w.put(tax, "ram:CalculatedAmount", cents(group.tax))
    w.put(tax, "ram:TypeCode", "VAT")
    w.put(tax, "ram:ExemptionReason", group.reason)
    w.put(tax, "ram:BasisAmount", cents(group.basis))
    w.put(tax, "ram:CategoryCode", group.category)
    w.put(tax, "ram:ExemptionReasonCode", REASON_CODES.get(group.category, ""))
    w.put(tax, "ram:RateApplicablePercent", number(group.percent))


def _allowance(w: Writer, node: "_Element", a: BillAllowance) -> None:
    w.put(w.node(node, "ram:ChargeIndicator"), "udt:Indicator", "true" if a.charge else "false")
    if a.rate is not None and a.base is not None:
        w.put(node, "ram:CalculationPercent", number(a.rate))
        w.put(node, "ram:BasisAmount", cents(half_up(a.base)))
    w.put(node, "ram:ActualAmount", cents(a.amount))
    code, word = CHARGE if a.charge else DISCOUNT
    w.put(node, "ram:ReasonCode", code)
    w.put(node, "ram:Reason", a.reason or word)
    _tax_of(w, w.node(node, "ram:CategoryTradeTax"), a)


def _sums(w: Writer, sums: "_Element", bill: Bill) -> None:
    w.put(sums, "ram:LineTotalAmount", cents(bill.line_net))
    w.put(sums, "ram:ChargeTotalAmount", cents(bill.charge_sum))
    w.put(sums, "ram:AllowanceTotalAmount", cents(bill.allowance_sum))
    w.put(sums, "ram:TaxBasisTotalAmount", cents(bill.without_vat))
    w.put(sums, "ram:TaxTotalAmount", cents(bill.tax), currencyID=bill.currency)
    if bill.rounding:
        w.put(sums, "ram:RoundingAmount", cents(bill.rounding))
    w.put(sums, "ram:GrandTotalAmount", cents(bill.with_vat))
    w.put(sums, "ram:TotalPrepaidAmount", cents(bill.paid))
    w.put(sums, "ram:DuePayableAmount", cents(bill.due))
