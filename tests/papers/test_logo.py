"""The shop's sign: what draws is kept, everything else is left out, and what is no picture is refused."""

import struct
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from shopcli.errors import BadInput, StoreTrouble
from shopcli.papers.bill import bill_pdf
from shopcli.papers.logo import MOST_BYTES, clean_png, clean_svg, read_logo
from tests.papers.paper_bill import rich
from tests.papers.test_bill_paper import SVG, png

HEAD = (
    b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">'
)
EVIL = (
    b"<script>alert(1)</script>",
    b'<rect width="9" height="9" onclick="x()"/>',
    b'<image href="http://example.com/x.png"/>',
    b'<use xlink:href="file:///etc/passwd#x"/>',
    b"<style>@import 'http://example.com/x.css';</style>",
    b'<rect style="fill:url(http://example.com/#p)"/>',
    b'<foreignObject><b xmlns="http://www.w3.org/1999/xhtml">x</b></foreignObject>',
    b'<a href="javascript:x()"><rect/></a>',
    b"<!-- a comment --><?php x ?>",
)


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def test_of_a_png_only_the_picture_is_kept() -> None:
    end = chunk(b"IEND", b"")
    told = (
        png().replace(end, chunk(b"tEXt", b"Comment\x00at home") + chunk(b"eXIf", b"51N 1W") + end) + b"tail"
    )
    assert clean_png(told) == png()
    assert Image.open(BytesIO(clean_png(told))).size == (40, 20)


@pytest.mark.parametrize(
    "content",
    [
        png()[:-20],
        png()[:8],
        png().replace(b"IDAT", b"IDAx"),
        png(5000, 1),
        png()[:8] + chunk(b"IEND", b""),
        png()[:8] + chunk(b"IHDR", b"") + chunk(b"IEND", b""),
    ],
    ids=["cut", "signature only", "bad sum", "too wide", "no picture", "empty head"],
)
def test_a_broken_png_is_refused(content: bytes) -> None:
    with pytest.raises(BadInput):
        clean_png(content)


@pytest.mark.parametrize("evil", EVIL)
def test_of_an_svg_only_shapes_are_kept(evil: bytes) -> None:
    cleaned = clean_svg(HEAD + evil + b'<circle r="4"/><use href="#own"/></svg>')
    for sign in (b"script", b"onclick", b"http://example", b"file:", b"@import", b"<b", b"comment", b"php"):
        assert sign not in cleaned
    assert b'<circle r="4"/>' in cleaned
    assert b'href="#own"' in cleaned


def test_entities_are_not_read() -> None:
    text = b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>' + HEAD + b"<text>&x;</text></svg>"
    cleaned = clean_svg(text)
    assert b"ENTITY" not in cleaned
    assert Path("/etc/hostname").read_bytes().strip() not in cleaned


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"<html/>", b"<svg/>", b"<svg xmlns="])
def test_what_is_neither_is_refused(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "logo"
    file.write_bytes(content)
    with pytest.raises(BadInput):
        read_logo(file)


def test_from_the_file_to_the_paper(tmp_path: Path) -> None:
    for name, content in (("a.png", png()), ("a.svg", SVG)):
        (tmp_path / name).write_bytes(content)
        assert bill_pdf(rich(), logo=read_logo(tmp_path / name)).content.startswith(b"%PDF-")
    (tmp_path / "large").write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(BadInput, match="2 MB"):
        read_logo(tmp_path / "large")
    with pytest.raises(StoreTrouble, match="none"):
        read_logo(tmp_path / "none.png")
