"""An odometer that shows less than before is written only with a reason, and the journal keeps it."""

import pytest

from shopcli.errors import BadInput, RunsBackwards
from shopcli.shop.commands import ChangeCard, OpenCard
from shopcli.store.reads import desk
from tests.conftest import Busy


def opened(shop: Busy, odometer: int | None, why: str = "") -> int:
    return shop.do(OpenCard(shop.vehicle, odometer=odometer, odometer_why=why), "Dora").id  # type: ignore[attr-defined]


def test_less_than_before_is_refused_until_somebody_says_why(busy_shop: Busy) -> None:
    last = busy_shop.view().odometer
    assert last is not None
    with pytest.raises(RunsBackwards, match=f"the last was {last:,}") as refused:
        opened(busy_shop, last - 1)
    assert refused.value.last == last
    assert "clock changed" in refused.value.hint
    card = opened(busy_shop, 12, "clock changed")
    ((after,),) = busy_shop.shop.fetch("SELECT after FROM journal ORDER BY id DESC LIMIT 1")
    assert f"the last was {last:,}: clock changed" in after
    # The new clock counts from here: nobody is asked again, and what is due is reckoned from it.
    assert desk.vehicle(busy_shop.shop, busy_shop.vehicle).last_odometer == 12
    opened(busy_shop, 12)
    assert busy_shop.shop.fetch("SELECT odometer FROM card WHERE id = ?", (card,)) == [(12,)]


def test_a_slip_on_the_card_itself_is_put_right_without_a_word(busy_shop: Busy) -> None:
    last = busy_shop.view().odometer or 0
    card = opened(busy_shop, last + 90_000)
    version = busy_shop.shop.fetch("SELECT version FROM card WHERE id = ?", (card,))[0][0]
    busy_shop.do(ChangeCard(card, version, odometer=last + 9_000), "Dora")
    with pytest.raises(RunsBackwards):
        busy_shop.do(ChangeCard(card, version + 1, odometer=last - 9), "Dora")
    said = busy_shop.do(
        ChangeCard(card, version + 1, odometer=last - 9, odometer_why="misread before"), "Dora"
    )
    assert "misread before" in said.said[1]  # type: ignore[attr-defined]


@pytest.mark.parametrize("reading", [-1, 2_000_001])
def test_what_no_odometer_shows_is_no_matter_of_reasons(busy_shop: Busy, reading: int) -> None:
    with pytest.raises(BadInput):
        opened(busy_shop, reading, "clock changed")
