"""Writing XML element by element, in the order a schema wants it, with nothing empty in it."""

import re
from datetime import date
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

from shopcli.columns import shown

if TYPE_CHECKING:
    from lxml.etree import _Element

# What XML 1.0 cannot hold at all: https://www.w3.org/TR/xml/#charsets
_NO_CHARACTER = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
CENT = Decimal("0.01")


def xml_text(text: str) -> str:
    r"""Return text as a document may hold it, trimmed.

    Examples
    --------
    >>> xml_text(" Lark\x00 & sons \ufffe")
    'Lark & sons'
    """
    return _NO_CHARACTER.sub("", shown(text)).strip()


def number(d: Decimal) -> str:
    """Write a figure with no exponent and no decimals it does not need.

    Examples
    --------
    >>> number(Decimal("1E+3")), number(Decimal("20.00")), number(Decimal("-0.0"))
    ('1000', '20', '0')
    """
    text = format(d, "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def cents(d: Decimal) -> str:
    """Write an amount with two decimals; it must have no more.

    Examples
    --------
    >>> cents(Decimal(5)), cents(Decimal("-0.00"))
    ('5.00', '0.00')
    """
    exact = d.quantize(CENT)
    if exact != d:
        raise ValueError(f"{d} is not whole cents")
    return format(exact.copy_abs() if exact.is_zero() else exact, "f")


def iso(d: date) -> str:
    """Write a date as UBL does."""
    return d.isoformat()


@cache
def _name(space: str, tag: str) -> str:
    return f"{{{space}}}{tag}"


class Writer:
    """Adds elements named ``prefix:Name`` below others; one with an empty text is not written."""

    def __init__(self, root: str, spaces: dict[str | None, str]) -> None:
        from lxml import etree

        self._add = etree.SubElement
        self._text = etree.tostring
        self._spaces = spaces
        self.root = etree.Element(self._named(root), nsmap=spaces)

    def _named(self, tag: str) -> str:
        prefix, _, name = tag.rpartition(":")
        return _name(self._spaces[prefix or None], name)

    def node(self, parent: "_Element", tag: str) -> "_Element":
        """Add an element that holds others."""
        return self._add(parent, self._named(tag))

    def put(self, parent: "_Element", tag: str, text: str, **attributes: str) -> None:
        """Add an element with a text."""
        if said := xml_text(text):
            self._add(parent, self._named(tag), attributes).text = said

    def content(self) -> bytes:
        """Return the document."""
        return self._text(self.root, xml_declaration=True, encoding="UTF-8", pretty_print=True)
