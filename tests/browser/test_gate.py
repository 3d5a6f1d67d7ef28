"""Who is let in, told from plain values; and what a page may say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.browser import told
from shopcli.browser.gate import COOKIES_MOST, WRONG_HOST, WRONG_ORIGIN, Gate, origins, public_origin
from shopcli.errors import BadInput

HERE = origins("127.0.0.1", 8123, "https://desk.example")


@pytest.mark.parametrize(
    ("host", "origin", "refusal"),
    [
        ("127.0.0.1:8123", None, None),
        ("127.0.0.1:8123", "http://127.0.0.1:8123", None),
        ("LOCALHOST:8123", "http://localhost:8123", None),
        ("[::1]:8123", "http://[::1]:8123", None),
        ("desk.example", "https://desk.example", None),
        ("desk.example", "http://desk.example", WRONG_ORIGIN),
        ("desk.example:8123", "https://desk.example", WRONG_HOST),
        ("127.0.0.1:8123", "http://localhost:8123", WRONG_ORIGIN),
        ("127.0.0.1:8123", "http://127.0.0.1:8124", WRONG_ORIGIN),
        ("127.0.0.1:8123", "null", WRONG_ORIGIN),
        ("127.0.0.1:8123", "", WRONG_ORIGIN),
        ("127.0.0.1:8123", "http://127.0.0.1:8123.elsewhere.example", WRONG_ORIGIN),
        ("127.0.0.1", None, WRONG_HOST),
        ("elsewhere.example:8123", None, WRONG_HOST),
        ("127.0.0.1.elsewhere.example:8123", None, WRONG_HOST),
        ("", None, WRONG_HOST),
    ],
)
def test_only_our_names_and_our_own_pages(host: str, origin: str | None, refusal: object) -> None:
    assert Gate(HERE).address_refusal(host, origin, wants_origin=False) is refusal


def test_a_line_wants_its_origin_said() -> None:
    assert Gate(HERE).address_refusal("127.0.0.1:8123", None, wants_origin=True) is WRONG_ORIGIN


def test_another_address_than_this_machine_s_has_its_own_name_as_well() -> None:
    assert "192.0.2.7:80" not in origins("192.0.2.7", 80)
    assert origins("192.0.2.7", 80)["192.0.2.7"] == "http://192.0.2.7"


@pytest.mark.parametrize("url", ["desk.example", "ftp://desk.example", "https://desk.example/x", "https://", "https://[", "https://me@desk.example", "https://desk.example:x"])  # fmt: skip
def test_a_public_address_is_a_site_s(url: str) -> None:
    with pytest.raises(BadInput):
        public_origin(url)


def test_the_right_key_alone_gives_a_cookie_and_the_oldest_is_forgotten() -> None:
    gate = Gate(HERE)
    assert [gate.cookie_for(key) for key in ("", gate.key[:-1], gate.key + "x", "\udcff")] == [None] * 4
    given_out = [gate.cookie_for(gate.key) for _ in range(COOKIES_MOST + 1)]
    assert len(set(given_out)) == len(given_out)
    assert not gate.knows(given_out[0])
    assert all(map(gate.knows, given_out[1:]))
    assert not any(map(gate.knows, (None, "", "x", "ä\udcff")))
    assert Gate(HERE).key != gate.key


def test_the_line_of_a_page_goes_where_the_page_came_from() -> None:
    assert [Gate(HERE).line(host) for host in ("localhost:8123", "desk.example", "elsewhere.example")] == [
        "ws://localhost:8123",
        "wss://desk.example",
        "",
    ]


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=3),
)


@given(
    JSON | st.lists(st.sampled_from(["stdin", "resize", "focus", {"width": 10**400, "height": -1}]) | JSON)
)
def test_whatever_a_page_says_is_taken_or_refused(message: object) -> None:
    import json

    for text in (json.dumps(message), str(message)):
        try:
            said = told.read(text)
        except BadInput:
            continue
        assert said.kind in {"stdin", "resize", "ping", "focus", "blur"}
        assert said.kind != "resize" or (20 <= said.size[0] <= 500 and 5 <= said.size[1] <= 250)
