"""A bill as OASIS UBL 2.1: an Invoice, or for a credit note the CreditNote document.

The comments of `shopcli.shop.bill` say which business term of EN 16931-1 each value is; the order of the
elements is the schema's.
"""

from decimal import Decimal
from typing import TYPE_CHECKING

from shopcli.papers.einvoice_check import check_einvoice
from shopcli.papers.einvoice_cii import close, three_lines
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
from shopcli.papers.einvoice_xml import Writer, cents, iso, number
from shopcli.shop.amounts import half_up
from shopcli.shop.bill import Bill, BillAllowance, BillGroup, BillLine, Party

if TYPE_CHECKING:
    from lxml.etree import _Element

_UBL = "urn:oasis:names:specification:ubl:schema:xsd:"


def bill_ubl(bill: Bill) -> bytes:
    """Return a bill as a UBL document.

    Raises
    ------
    NotComplete
        If the standard asks for something the bill does not have.
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_einvoice(bill)
    return _Document(bill).content()


def _note(text: str) -> str:
    # Two number signs with three signs between them would be read as the subject of the note (BT-21, BR-CL-08):
    # such a text gets one that is true of any, general information (UNTDID 4451).
    return f"#AAI#{text}" if "#" in text else text


class _Document:
    """One document on its way; `money` knows its currency."""

    def __init__(self, bill: Bill) -> None:
        self.bill = bill
        self.credit = bill.kind == CREDIT_NOTE
        kind = "CreditNote" if self.credit else "Invoice"
        self.w = Writer(
            kind,
            {
                None: f"{_UBL}{kind}-2",
                "cac": f"{_UBL}CommonAggregateComponents-2",
                "cbc": f"{_UBL}CommonBasicComponents-2",
            },
        )
        self.in_scope = {g.category for g in bill.groups} != {OUT_OF_SCOPE}

    def content(self) -> bytes:
        self._head()
        self._references()
        root, bill = self.w.root, self.bill
        self._party(self.w.node(root, "cac:AccountingSupplierParty"), bill.seller, seller=True)
        self._party(self.w.node(root, "cac:AccountingCustomerParty"), bill.buyer, seller=False)
        self._delivery()
        self._paying()
        for allowance in bill.allowances:
            self._allowance(allowance)
        self._taxes()
        self._sums()
        for line in bill.lines:
            self._line(line)
        return self.w.content()

    def money(self, parent: "_Element", tag: str, d: Decimal) -> None:
        """Add an amount in whole cents."""
        self.w.put(parent, tag, cents(d), currencyID=self.bill.currency)

    def _head(self) -> None:
        put, root, bill = self.w.put, self.w.root, self.bill
        put(root, "cbc:CustomizationID", PROFILE)
        put(root, "cbc:ID", bill.number)
        put(root, "cbc:IssueDate", iso(bill.issued))
        if bill.due_by and not self.credit:
            put(root, "cbc:DueDate", iso(bill.due_by))
        put(root, "cbc:CreditNoteTypeCode" if self.credit else "cbc:InvoiceTypeCode", TYPES[bill.kind])
        for text in notes(bill):
            put(root, "cbc:Note", _note(text))
        put(root, "cbc:DocumentCurrencyCode", bill.currency)

    def _references(self) -> None:
        w, bill = self.w, self.bill
        if bill.order:
            w.put(w.node(w.root, "cac:OrderReference"), "cbc:ID", bill.order)
        if bill.corrects:
            before = w.node(w.node(w.root, "cac:BillingReference"), "cac:InvoiceDocumentReference")
            w.put(before, "cbc:ID", bill.corrects)
            if bill.corrects_issued:
                w.put(before, "cbc:IssueDate", iso(bill.corrects_issued))
        if bill.card:
            reference = w.node(w.root, "cac:AdditionalDocumentReference")
            w.put(reference, "cbc:ID", bill.card)
            w.put(reference, "cbc:DocumentTypeCode", OBJECT)

    def _party(self, outer: "_Element", party: Party, *, seller: bool) -> None:
        w = self.w
        node = w.node(outer, "cac:Party")
        if seller and not self.in_scope:
            w.put(w.node(node, "cac:PartyIdentification"), "cbc:ID", party.tax_number)
        address = w.node(node, "cac:PostalAddress")
        lines = three_lines(party)
        for tag, text in zip(("cbc:StreetName", "cbc:AdditionalStreetName"), lines, strict=False):
            w.put(address, tag, text)
        w.put(address, "cbc:CityName", party.city)
        w.put(address, "cbc:PostalZone", party.post_code)
        for text in lines[2:]:
            w.put(w.node(address, "cac:AddressLine"), "cbc:Line", text)
        w.put(w.node(address, "cac:Country"), "cbc:IdentificationCode", party.country.upper())
        if party.vat_number and self.in_scope:
            self._registered(node, close(party.vat_number), "VAT")
        if party.tax_number and seller:
            self._registered(node, party.tax_number, "TAX")
        w.put(w.node(node, "cac:PartyLegalEntity"), "cbc:RegistrationName", party.name)
        if party.phone or party.email:
            contact = w.node(node, "cac:Contact")
            w.put(contact, "cbc:Name", party.name)
            w.put(contact, "cbc:Telephone", party.phone)
            w.put(contact, "cbc:ElectronicMail", party.email)

    def _registered(self, node: "_Element", number_: str, scheme: str) -> None:
        tax = self.w.node(node, "cac:PartyTaxScheme")
        self.w.put(tax, "cbc:CompanyID", number_)
        self.w.put(self.w.node(tax, "cac:TaxScheme"), "cbc:ID", scheme)

    def _delivery(self) -> None:
        w, bill = self.w, self.bill
        within = any(g.category == "K" for g in bill.groups)
        if not (bill.supplied or within):
            return
        delivery = w.node(w.root, "cac:Delivery")
        if bill.supplied:
            w.put(delivery, "cbc:ActualDeliveryDate", iso(bill.supplied))
        if within:
            address = w.node(w.node(delivery, "cac:DeliveryLocation"), "cac:Address")
            w.put(w.node(address, "cac:Country"), "cbc:IdentificationCode", bill.buyer.country.upper())

    def _paying(self) -> None:
        w, bill = self.w, self.bill
        if not self.credit:
            means = w.node(w.root, "cac:PaymentMeans")
            code = payment_means(bill)
            w.put(means, "cbc:PaymentMeansCode", code)
            w.put(means, "cbc:PaymentID", bill.number)
            if code != UNDEFINED:
                account = w.node(means, "cac:PayeeFinancialAccount")
                w.put(account, "cbc:ID", close(bill.iban))
                w.put(account, "cbc:Name", bill.account_name)
                if bill.bic:
                    w.put(w.node(account, "cac:FinancialInstitutionBranch"), "cbc:ID", close(bill.bic))
        if said := terms(bill):
            w.put(w.node(w.root, "cac:PaymentTerms"), "cbc:Note", said)

    def _allowance(self, a: BillAllowance) -> None:
        node = self.w.node(self.w.root, "cac:AllowanceCharge")
        base = half_up(a.base) if a.base is not None else None
        self._off_or_on(node, a.charge, a.reason, a.amount, a.rate, base)
        self._category(node, "cac:TaxCategory", a)

    def _off_or_on(
        self,
        node: "_Element",
        charge: bool,
        reason: str,
        amount: Decimal,
        rate: Decimal | None = None,
        base: Decimal | None = None,
    ) -> None:
        code, word = CHARGE if charge else DISCOUNT
        self.w.put(node, "cbc:ChargeIndicator", "true" if charge else "false")
        self.w.put(node, "cbc:AllowanceChargeReasonCode", code)
        self.w.put(node, "cbc:AllowanceChargeReason", reason or word)
        known = rate is not None and base is not None
        if known:
            self.w.put(node, "cbc:MultiplierFactorNumeric", number(rate))
        self.money(node, "cbc:Amount", amount)
        if known:
            self.money(node, "cbc:BaseAmount", base)

    def _category(
        self, parent: "_Element", tag: str, item: BillLine | BillAllowance | BillGroup, why: str = ""
    ) -> None:
        node = self.w.node(parent, tag)
        self.w.put(node, "cbc:ID", item.category)
        if item.category != OUT_OF_SCOPE:
            self.w.put(node, "cbc:Percent", number(item.percent))
        self.w.put(node, "cbc:TaxExemptionReasonCode", REASON_CODES.get(item.category, "") if why else "")
        self.w.put(node, "cbc:TaxExemptionReason", why)
        self.w.put(self.w.node(node, "cac:TaxScheme"), "cbc:ID", "VAT")

    def _taxes(self) -> None:
        whole = self.w.node(self.w.root, "cac:TaxTotal")
        self.money(whole, "cbc:TaxAmount", self.bill.tax)
        for group in self.bill.groups:
            part = self.w.node(whole, "cac:TaxSubtotal")
            self.money(part, "cbc:TaxableAmount", group.basis)
            self.money(part, "cbc:TaxAmount", group.tax)
            self._category(part, "cac:TaxCategory", group, group.reason)

    def _sums(self) -> None:
        bill, sums = self.bill, self.w.node(self.w.root, "cac:LegalMonetaryTotal")
        self.money(sums, "cbc:LineExtensionAmount", bill.line_net)
        self.money(sums, "cbc:TaxExclusiveAmount", bill.without_vat)
        self.money(sums, "cbc:TaxInclusiveAmount", bill.with_vat)
        self.money(sums, "cbc:AllowanceTotalAmount", bill.allowance_sum)
        self.money(sums, "cbc:ChargeTotalAmount", bill.charge_sum)
        self.money(sums, "cbc:PrepaidAmount", bill.paid)
        if bill.rounding:
            self.money(sums, "cbc:PayableRoundingAmount", bill.rounding)
        self.money(sums, "cbc:PayableAmount", bill.due)

    def _line(self, line: BillLine) -> None:
        w = self.w
        node = w.node(w.root, "cac:CreditNoteLine" if self.credit else "cac:InvoiceLine")
        w.put(node, "cbc:ID", line.id)
        w.put(node, "cbc:Note", "; ".join(filter(None, (line.note, unit_said(line.unit)))))
        quantity = "cbc:CreditedQuantity" if self.credit else "cbc:InvoicedQuantity"
        w.put(node, quantity, number(line.qty), unitCode=unit_code(line.unit))
        self.money(node, "cbc:LineExtensionAmount", line.net)
        if line.allowance:
            percent = line.allowance_percent
            base = gross(line) if percent is not None else None
            off = w.node(node, "cac:AllowanceCharge")
            self._off_or_on(off, False, line.allowance_reason, line.allowance, percent, base)
        if line.charge:
            self._off_or_on(w.node(node, "cac:AllowanceCharge"), True, line.charge_reason, line.charge)
        item = w.node(node, "cac:Item")
        w.put(item, "cbc:Name", line.description.strip() or line.kind)
        self._category(item, "cac:ClassifiedTaxCategory", line)
        price = w.node(node, "cac:Price")
        w.put(price, "cbc:PriceAmount", number(line.price), currencyID=self.bill.currency)
        w.put(price, "cbc:BaseQuantity", str(line.base_qty), unitCode=unit_code(line.unit))
