"""The word for the tax on papers and screens: VAT by whatever name, or a sales tax, which is another thing and has no number."""

SHORT_MOST = 7  # columns the head of a rate may take


def is_sales_tax(word: str) -> bool:
    """Whether the word is that of a sales tax, charged once at the end: no VAT number stands with it.

    Examples
    --------
    >>> is_sales_tax("County sales tax"), is_sales_tax("VAT")
    (True, False)
    """
    return "sales tax" in " ".join(word.casefold().split())


def with_tax(word: str) -> str:
    """Say of a sum that the tax is in it.

    Examples
    --------
    >>> with_tax("VAT"), with_tax("Sales tax")
    ('with VAT', 'with sales tax')
    """
    return f"with {_in_a_sentence(word)}"


def without_tax(word: str) -> str:
    """Say of a sum that the tax is not in it.

    Examples
    --------
    >>> without_tax("VAT"), without_tax("Sales tax")
    ('without VAT', 'before sales tax')
    """
    return f"{'before' if is_sales_tax(word) else 'without'} {_in_a_sentence(word)}"


def _in_a_sentence(word: str) -> str:
    return f"{word[:1].lower()}{word[1:]}" if is_sales_tax(word) else word


def before_tax(word: str) -> str:
    """Name a sum the tax is not in yet.

    Examples
    --------
    >>> before_tax("VAT"), before_tax("Sales tax")
    ('Without VAT', 'Before sales tax')
    """
    return f"{without_tax(word)[:1].upper()}{without_tax(word)[1:]}"


def short_tax(word: str) -> str:
    """Name the rate at the head of a narrow column.

    Examples
    --------
    >>> short_tax("VAT"), short_tax("Sales tax")
    ('VAT', 'Tax')
    """
    return word if len(word) <= SHORT_MOST else "Tax"


def number_of(word: str, number: str) -> str:
    """Return a VAT number fit for a paper with that tax: none where it is a sales tax."""
    return "" if is_sales_tax(word) else number
