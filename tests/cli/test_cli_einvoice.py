"""E-invoices by command, from real records to files that keep every published rule."""

from io import BytesIO
from pathlib import Path

import pikepdf

from shopcli.shop.commands import CreditInvoice, TakePayment
from shopcli.store.reads.bills import bill_of_card
from tests.cli.conftest import Run
from tests.cli.test_cli_papers import closed
from tests.conftest import Busy
from tests.papers.figures import of_cii, of_ubl
from tests.papers.paper_bill import IBAN
from tests.papers.validators import broken


def test_an_invoice_and_a_credit_note_for_machines(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    busy_shop.shop.settings = busy_shop.shop.settings._replace(vat_number="GB123456789", iban=IBAN)
    closed(busy_shop)
    busy_shop.do(CreditInvoice(busy_shop.card, reason="The wrong contact set"), by="Dora")
    files = {form: tmp_path / f"x.{form}" for form in ("cii", "ubl", "facturx")}
    words = [w for form, path in files.items() for w in (f"--{form}", str(path))]
    for which in (("invoice", "1"), ("credit-note", "CN-000001")):
        assert run("paper", *which, *words)[0] == 0
        cii, ubl, facturx = (path.read_bytes() for path in files.values())
        assert broken(cii) == broken(ubl) == []
        assert of_cii(cii) == of_ubl(ubl)
        with pikepdf.open(BytesIO(facturx)) as pdf:
            assert pdf.attachments["factur-x.xml"].get_file().read_bytes() == cii
    assert of_cii(cii).kind == "381"
    assert "answers invoice INV-000001" in run("paper", "credit-note", "1")[1]
    assert run("paper", "credit-note", "7")[0] == 2


def test_a_statement_and_a_receipt_over_all_of_it(run: Run, busy_shop: Busy) -> None:
    closed(busy_shop)
    whole = bill_of_card(busy_shop.shop, busy_shop.card).with_vat
    busy_shop.do(CreditInvoice(busy_shop.card, reason="Wrong from first to last"), by="Dora")
    status, out, err = run("paper", "statement", "ada")
    assert (status, err) == (0, "")
    flat = " ".join(out.split())
    for words in (
        "Opening balance 0.00",
        "INV-000001",
        f"{whole}",
        "CN-000001",
        "In your favour £50.00",
    ):
        assert words in flat
    busy_shop.do(TakePayment(busy_shop.card, 500, "payment", "cash", over="kept"), by="Dora")
    last = " ".join(run("paper", "receipt", "1")[1].split())
    assert f"Credited -£{whole}" in last
    assert "In your favour £55.00" in last
    assert run("paper", "statement", "nobody at all")[0] == 2
    assert run("paper", "statement", "ada", "--since", "soon")[0] == 2
    assert run("paper", "statement", "ada", "--since", "2026-12-01", "--to", "2026-11-01")[0] == 2
