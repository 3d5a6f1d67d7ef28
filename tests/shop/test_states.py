"""A step that makes no sense is refused as one would say it to a colleague: how the thing stands, and the way on."""

import pytest

from shopcli.errors import Refused
from shopcli.shop.states import CARD_MOVES, PART_MOVES, PURCHASE_MOVES, TASK_MOVES, move

WRONG = [
    (moves, now, then)
    for moves in (CARD_MOVES, TASK_MOVES, PART_MOVES, PURCHASE_MOVES)
    for now in moves
    for then in moves
    if then not in moves[now]
]


def said(moves: object, now: object, then: object) -> Refused:
    with pytest.raises(Refused) as refused:
        move("it", moves, now, then)  # type: ignore[type-var]
    return refused.value


@pytest.mark.parametrize(("moves", "now", "then"), WRONG)
def test_no_refused_step_talks_of_states(moves: object, now: object, then: object) -> None:
    error = said(moves, now, then)
    for talk in ("become", "llowed from", "state"):
        assert talk not in f"{error.message} {error.hint}"
    assert error.message.startswith("it ")
    assert error.hint.endswith(".")


def test_what_is_so_already_is_said_so() -> None:
    done = said(TASK_MOVES, "done", "done")
    assert (done.message, done.hint) == ("it is done already", "u at the bench opens it again.")
    assert said(CARD_MOVES, "closed", "in hand").message == "it is closed"
    assert said(PART_MOVES, "wanted", "returned").message == "it is not fitted, only wanted"
    assert said(PURCHASE_MOVES, "sent", "sent").message == "it is sent already"
