"""The shop's sign on its papers: a PNG or SVG file, looked at and cleaned before it is printed or mailed to anybody.

Of a PNG only what draws it is kept: where and when a picture was taken concerns no customer. Of an SVG only
elements and attributes that draw are kept: no script, no style sheet, nothing that is fetched from elsewhere.
"""

import struct
import zlib
from pathlib import Path
from typing import TYPE_CHECKING

from shopcli.errors import BadInput, StoreTrouble
from shopcli.papers.blocks import Logo

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_BYTES = 2_000_000
MOST_PIXELS = 4000
HEAD = 13  # bytes of the first chunk
_PNG = b"\x89PNG\r\n\x1a\n"
_DRAWS = frozenset({b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND", b"gAMA", b"sRGB", b"cHRM"})
_SVG = "http://www.w3.org/2000/svg"
_SHAPES = frozenset(
    {
        "svg", "g", "defs", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "title", "desc",
        "linearGradient", "radialGradient", "stop", "clipPath", "mask", "use", "symbol", "text", "tspan",
    }
)  # fmt: skip


def read_logo(path: Path) -> Logo:
    """Return the logo in a file, cleaned.

    Raises
    ------
    StoreTrouble
        If the file cannot be read.
    BadInput
        If it is neither a PNG nor an SVG that can be cleaned, or too large.
    """
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise StoreTrouble(f"the logo {path} cannot be read", hint="See logo in the settings.") from error
    if len(content) > MOST_BYTES:
        raise BadInput(f"the logo is larger than {MOST_BYTES // 1_000_000} MB", hint="Save it smaller.")
    return Logo("png", clean_png(content)) if content.startswith(_PNG) else Logo("svg", clean_svg(content))


def clean_png(content: bytes) -> bytes:
    """Return a PNG with nothing in it but the picture (ISO/IEC 15948, 5 and 11).

    Raises
    ------
    BadInput
        If it is broken or has too many pixels.
    """
    kept, at, name = [_PNG], len(_PNG), b""
    while at + 12 <= len(content) and name != b"IEND":
        (size,) = struct.unpack_from(">I", content, at)
        name, data = content[at + 4 : at + 8], content[at + 8 : at + 8 + size]
        end = at + 12 + size
        if end > len(content) or struct.unpack_from(">I", content, end - 4)[0] != zlib.crc32(name + data):
            break
        if name == b"IHDR" and size == HEAD and max(struct.unpack_from(">II", data)) > MOST_PIXELS:
            raise BadInput(
                f"the logo is more than {MOST_PIXELS} pixels wide or high", hint="Save it smaller."
            )
        if name in _DRAWS:
            kept.append(content[at:end])
        at = end
    whole = b"".join(kept)
    if name != b"IEND" or whole[8:16] != struct.pack(">I", HEAD) + b"IHDR" or b"IDAT" not in whole:
        raise BadInput("the logo is a broken PNG", hint="Save it anew.")
    return whole


def clean_svg(content: bytes) -> bytes:
    """Return an SVG with nothing in it but shapes.

    Raises
    ------
    BadInput
        If it is no SVG.
    """
    from lxml import etree

    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, remove_comments=True, remove_pis=True
    )
    try:
        root = etree.fromstring(content, parser)
    except etree.XMLSyntaxError as error:
        raise BadInput("the logo is neither a PNG nor an SVG", hint="Save it as one of these.") from error
    if root.tag != f"{{{_SVG}}}svg":
        raise BadInput("the logo is no SVG", hint="Save it as SVG or PNG.")
    for node in list(root.iter()):
        name = etree.QName(node) if isinstance(node.tag, str) else None
        if node is not root and (name is None or name.namespace != _SVG or name.localname not in _SHAPES):
            _drop(node)
            continue
        for key, value in list(node.attrib.items()):
            if not _draws(etree.QName(key).localname.casefold(), value):
                del node.attrib[key]
    etree.cleanup_namespaces(root)
    return etree.tostring(root)


def _drop(node: "_Element") -> None:
    parent = node.getparent()
    if parent is not None:
        parent.remove(node)


def _draws(name: str, value: str) -> bool:
    close = "".join(value.split()).casefold()
    if name.startswith("on") or "javascript:" in close or "@import" in close:
        return False
    if name == "href":
        return close.startswith("#")
    return "url(" not in close or close.count("url(") == close.count("url(#")
