"""A process behind a page, small ones in the application's place: what they say, what they hear, and how they end."""

import json
import os
import sys
from contextlib import suppress

import pytest

from shopcli.browser import behind
from shopcli.browser.behind import PACKET_MOST, READY, Behind, Handed, Outlets

SAY = """
import os, signal, sys, time
def say(kind, content): os.write(1, kind + len(content).to_bytes(4, "big") + content)
"""
BEGIN = f"os.write(1, {READY!r})\n"


async def started(program: str) -> Behind:
    return await Behind.started((sys.executable, "-S", "-c", SAY + program), dict(os.environ), (100, 30))


async def said_by(program: str) -> tuple[bytes, list[Handed]]:
    """Return all that a program shows and hands over until it says that it ends, or does."""
    shown, handed = [], []

    async def show(content: bytes) -> None:
        shown.append(content)

    async def hand(file: Handed) -> None:
        handed.append(file)

    process = await started(program)
    await process.listen(Outlets(show, hand))
    await process.end()
    return b"".join(shown), handed


async def test_what_is_said_goes_where_it_belongs() -> None:
    file = json.dumps({"name": "J00001-summary.pdf", "mime": "application/pdf"}).encode() + b"\n%PDF"
    said = f"""
say(b"D", b"one "); say(b"F", {file!r}); say(b"M", b'{{"type": "open_url"}}'); say(b"D", b"two")
say(b"M", b'{{"type": "exit"}}'); say(b"D", b"three")
"""
    shown, handed = await said_by('print("a word of a library", flush=True)\n' + BEGIN + said)
    assert (shown, handed) == (b"one two", [Handed("J00001-summary.pdf", "application/pdf", b"%PDF")])


@pytest.mark.parametrize(
    "program",
    [
        "",
        'os.write(1, b"x" * 200_000)',
        BEGIN + 'os.write(1, b"D")',
        BEGIN + 'say(b"D", b"")\nos.write(1, b"D" + (9).to_bytes(4, "big") + b"short")',
        BEGIN + f'os.write(1, b"D" + ({PACKET_MOST} + 1).to_bytes(4, "big"))\ntime.sleep(600)',
    ],
    ids=["nothing", "no application", "half a head", "half a packet", "no end of it"],
)
async def test_who_breaks_off_or_never_ends_is_listened_to_no_more(
    program: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(behind, "LEAVES_S", 0.1)
    assert (await said_by(program))[0] == b""


async def test_what_is_typed_arrives_whatever_it_is_and_the_terminal_has_its_size() -> None:
    hears = (
        BEGIN
        + """
heard = b""
while (more := os.read(0, 1000)): heard += more
say(b"D", os.environ["COLUMNS"].encode() + b" " + os.environ["ROWS"].encode() + b" " + heard)
"""
    )
    shown: list[bytes] = []

    async def show(content: bytes) -> None:
        shown.append(content)

    process = await started(hears)
    await process.type("½\udcff")
    await process.word("resize", width=80, height=24)
    assert process._process.stdin is not None
    process._process.stdin.close()
    await process.listen(Outlets(show, lambda _file: show(b"")))
    await process.type("nobody hears this")
    await process.end()
    word = b'{"type": "resize", "width": 80, "height": 24}'
    assert shown == [b"100 30 D\0\0\0\x03\xc2\xbd?M\0\0\0" + bytes([len(word)]) + word]


async def test_one_that_will_not_leave_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(behind, "LEAVES_S", 0.3)
    monkeypatch.setattr(behind, "ENDS_S", 0.1)
    process = await started(
        "signal.signal(signal.SIGTERM, signal.SIG_IGN)\n" + BEGIN + 'while True: say(b"D", b"x" * 9000)'
    )
    assert process._process.stdout is not None
    while await process._process.stdout.readline() != READY:
        pass
    await process.end()
    assert process._process.returncode == -9
    with suppress(ProcessLookupError):
        os.kill(process._process.pid, 0)
        pytest.fail("it lives")
