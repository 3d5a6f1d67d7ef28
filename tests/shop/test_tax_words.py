"""The tax is called what the shop calls it, wherever a sum is said to have it in it or not."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import shopcli
from shopcli.papers.of_records import in_form, purchase_of
from shopcli.price_words import as_text as blocks_text
from shopcli.price_words import money_block, price_blocks
from shopcli.screens.desk.intake import say_sum
from shopcli.shop.commands import AddPart, AddToOrder, MakeOffer
from shopcli.store.reads.ahead import authority_of
from shopcli.store.reads.prices import price_for
from tests.conftest import Busy

SAID = ("with VAT", "without VAT", "before VAT", "Without VAT")
# Where the words are made, and the word itself as what is meant while the settings name no other.
MADE = {"shop/taxwords.py"}


def sentences(path: Path) -> Iterator[str]:
    """Yield the literal texts of a module that are no docstrings."""
    source = path.read_text(encoding="utf-8")
    if "VAT" not in source:
        return
    tree = ast.parse(source)
    told = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
    defaults = {
        id(one)
        for n in ast.walk(tree)
        if isinstance(n, ast.FunctionDef | ast.AnnAssign)
        for one in ([*n.args.defaults, *n.args.kw_defaults] if isinstance(n, ast.FunctionDef) else [n.value])
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in told | defaults and isinstance(node.value, str):
            yield node.value


def test_no_sentence_knows_the_tax_by_a_fixed_name() -> None:
    root = Path(shopcli.__file__).parent
    names = (p.relative_to(root).as_posix() for p in sorted(root.rglob("*.py")))
    found = [
        (name, text)
        for name in names
        if name not in MADE
        for text in sentences(root / name)
        if any(words in text for words in SAID)
    ]
    # Papers prove their own sums in the words of EN 16931-1, which nobody but a programmer reads.
    assert [f for f in found if f[0] not in {"papers/adds_up.py", "papers/einvoice_check.py"}] == []


@pytest.mark.parametrize(
    ("word", "inside", "outside"),
    [("VAT", "with VAT", "without VAT"), ("Sales tax", "with sales tax", "before sales tax")],
)
def test_prices_ahead_offers_and_orders_say_it(busy_shop: Busy, word: str, inside: str, outside: str) -> None:
    shop = busy_shop.shop
    shop.settings = shop.settings._replace(tax_word=word)
    part = AddPart("T-078", "hose", 250, price_minor=400, supplier="Fell & Co")
    part_id = busy_shop.do(part, "Dora").id  # type: ignore[attr-defined]
    price = price_for(shop, ("points",), busy_shop.vehicle)
    blocks = blocks_text(price_blocks(price))
    assert inside in blocks
    assert outside in blocks
    view = authority_of(shop, busy_shop.card)
    assert inside in blocks_text([money_block(view, "GBP")])
    said = busy_shop.do(MakeOffer(busy_shop.vehicle, ("points",)), "Dora").said[0]  # type: ignore[attr-defined]
    assert inside in said
    assert inside in say_sum("300", shop.settings)
    busy_shop.do(AddToOrder(1, part_id, 2_000), "Dora")
    paper = in_form(shop, purchase_of(shop, "P00001"), "text").content.decode()
    assert f"Expected, {outside}" in paper
    assert word == "VAT" or "VAT" not in paper
