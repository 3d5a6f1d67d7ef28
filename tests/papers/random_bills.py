"""Bills nobody thought of: any lines, rates, discounts and payments that the calculator accepts and the standard allows."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import strategies as st

from shopcli.shop.bill import Bill, BillAllowance, BillPayment, Party
from tests.papers.paper_bill import BUYER, IBAN, SELLER, bill, line

D = Decimal
STANDARD = ("standard", D(20), "S")
# What may stand on one bill together; outside the scope of VAT stands alone (BR-O-11).
MIXES = (
    (STANDARD,),
    (STANDARD, ("reduced", D("5.5"), "S"), ("zero", D(0), "Z"), ("fee", D(0), "E")),
    (("reverse charge", D(0), "AE"),),
    (("within", D(0), "K"), STANDARD),
    (("abroad", D(0), "G"),),
    (("out of scope", D(0), "O"),),
)
REASONS = {c: f"no tax for a reason, {c}" for c in ("E", "AE", "K", "G", "O")}
KINDS = ("labour", "part", "surcharge", "outwork", "sundry", "fee")
UNITS = ("h", "min", "pc", "l", "m", "kg", "tin", "pair", "")
# Letters only, so that every figure on the paper is one of the bill's own.
WORDS = (
    st.text("abc xyzäßéØЖλ&<>#$*_'\"()%", min_size=1, max_size=60).map(str.strip).map(lambda t: t or "word")
)


def money(most: int) -> st.SearchStrategy[Decimal]:
    return st.integers(0, most * 100).map(lambda n: D(n) / 100)


@st.composite
def lines_of(draw: st.DrawFn, rates: tuple[tuple[str, Decimal, str], ...]):
    made = []
    for n in range(1, draw(st.integers(1, 8)) + 1):
        qty = D(draw(st.integers(-3_000, 90_000).filter(bool))) / 1000
        price = D(draw(st.integers(0, 9_000_000))) / 10 ** draw(st.integers(2, 4))
        off = draw(st.one_of(st.just(D(0)), money(20)))
        more = {
            "allowance": off,
            "charge": draw(st.one_of(st.just(D(0)), money(5))),
            "note": draw(st.just("") | WORDS),
        }
        if off:
            more |= {
                "allowance_percent": draw(st.none() | money(50)),
                "allowance_reason": draw(st.just("") | WORDS),
            }
        made.append(
            line(
                str(n),
                draw(st.sampled_from(KINDS)),
                draw(WORDS),
                str(qty),
                draw(st.sampled_from(UNITS)),
                str(price),
                draw(st.sampled_from(rates)),
                **more,
            )
        )
    return tuple(made)


@st.composite
def bills(draw: st.DrawFn) -> Bill:
    """Draw an invoice or a credit note."""
    rates = draw(st.sampled_from(MIXES))
    categories = {r[2] for r in rates}
    lines = draw(lines_of(rates))
    used = sorted({(x.vat, x.percent, x.category) for x in lines})
    allowances = tuple(
        BillAllowance(
            draw(st.booleans()),
            draw(money(40)),
            *draw(st.sampled_from(used)),
            draw(st.just("") | WORDS),
            *draw(st.just((None, None)) | st.just((D("33.333"), D("12.5")))),
        )
        for _ in range(draw(st.integers(0, 3)))
    )
    days = st.dates(date(2020, 1, 1), date(2035, 12, 31))
    payments = tuple(
        BillPayment(draw(st.sampled_from(("deposit", "payment"))), draw(money(5000)), draw(WORDS), draw(days))
        for _ in range(draw(st.integers(0, 3)))
    )
    outside = categories == {"O"}
    abroad = categories & {"AE", "K"}
    credit = draw(st.booleans())
    made = bill(
        lines,
        allowances,
        () if credit else payments,
        D(draw(st.integers(-5, 5))) / 100,
        REASONS,
        currency=draw(st.sampled_from(("GBP", "EUR", "USD", "CHF"))),
        kind="credit note" if credit else "invoice",
        issued=draw(days),
        due_by=draw(st.none() | days),
        supplied=draw(days if abroad else st.none() | days),
        corrects="INV-A" if credit else "",
        corrects_issued=draw(st.none() | days) if credit else None,
        why=draw(WORDS) if credit else "",
        iban=draw(st.sampled_from(("", IBAN))),
        bic=draw(st.sampled_from(("", "NWBKGB2L"))),
        account_name=draw(st.just("") | WORDS),
        seller=replace(SELLER, tax_number="TAX" if outside or draw(st.booleans()) else ""),
        buyer=draw(
            st.sampled_from(
                (
                    replace(
                        BUYER, vat_number="DE123456789" if abroad else "", country="DE" if abroad else "GB"
                    ),
                    Party("Somebody", country="FR", vat_number="FR12345678901"),
                    Party("Four & lines", ("a", "b", "c", "d"), country="gb", vat_number="GB 000 0000 00"),
                )
            )
        ),
        order=draw(st.just("") | WORDS),
        card=draw(st.just("") | WORDS),
        vehicle=draw(st.just("") | WORDS),
        odometer="",
        notes=tuple(draw(st.lists(WORDS, max_size=2))),
        rounding_rule=draw(st.just("") | WORDS),
        terms=draw(st.just("") | WORDS),
    )
    return made if made.due_by or made.terms else replace(made, terms="at once")
