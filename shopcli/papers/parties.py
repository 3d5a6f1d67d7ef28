"""Who a paper is from and whom it is for, line by line."""

from shopcli.papers.blocks import Fields
from shopcli.shop.bill import Party
from shopcli.shop.taxwords import number_of


def sender(party: Party, tax_word: str = "VAT") -> tuple[str, ...]:
    """Return the shop line by line, its name first.

    Examples
    --------
    >>> sender(Party("Brook Lane", ("12 Brook Lane",), "Marling", "XX1 1XX", vat_number="GB123456789"))
    ('Brook Lane', '12 Brook Lane', 'Marling', 'XX1 1XX', 'VAT no. GB123456789')
    """
    said = number_of(tax_word, party.vat_number)
    number = f"{tax_word} no. {said}" if said else ""
    other = f"Tax no. {party.tax_number}" if party.tax_number else ""
    return (party.name, *party.where, *filter(None, (party.phone, party.email, number, other)))


def addressed(party: Party, tax_word: str = "VAT", name: str = "To") -> Fields:
    """Return whom a paper is for."""
    return Fields(
        (
            (name, "\n".join((party.name, *party.where))),
            (f"{tax_word} no.", number_of(tax_word, party.vat_number)),
        )
    )


def iban_grouped(iban: str) -> str:
    """Return an IBAN in groups of four, as it is printed (ISO 13616-1).

    Examples
    --------
    >>> iban_grouped("GB82WEST12345698765432")
    'GB82 WEST 1234 5698 7654 32'
    """
    close = "".join(iban.split())
    return " ".join(close[i : i + 4] for i in range(0, len(close), 4))
