"""Numbers that check themselves, checked: a VAT number, an account. A doubt is told, never a bar: registers have exceptions."""

import re

PREFIX = re.compile(r"([A-Z]{2})[0-9A-Z+*.\- ]{2,}")
# A VAT number of Greece begins EL, of Northern Ireland XI; the checks are kept under the country's own sign.
COUNTRY_OF = {"EL": "gr", "XI": "gb"}


def doubts(*, vat_number: str = "", iban: str = "") -> tuple[str, ...]:
    """Return what is doubtful about the numbers given, in words; empty when nothing is.

    A VAT number of a country nobody here knows the check of is not doubted.

    Examples
    --------
    >>> doubts(iban="GB29 NWBK 6016 1331 9268 19")  # the example of the registry of ISO 13616-1
    ()
    >>> doubts(iban="GB29 NWBK 6016 1331 9268 91")
    ('The account GB29 NWBK 6016 1331 9268 91 does not check: look for a slip.',)
    """
    found = []
    if vat_number and not _vat_fits(vat_number):
        found.append(f"The VAT number {vat_number} does not check: look for a slip.")
    if iban and not _iban_fits(iban):
        found.append(f"The account {iban} does not check: look for a slip.")
    return tuple(found)


def _vat_fits(text: str) -> bool:
    from stdnum import get_cc_module

    match = PREFIX.fullmatch(text.strip().upper())
    if match is None:
        return False
    check = get_cc_module(COUNTRY_OF.get(match[1], match[1].lower()), "vat")
    return check is None or bool(check.is_valid(text))


def _iban_fits(text: str) -> bool:
    from stdnum import iban

    return bool(iban.is_valid(text))
