"""The word for the tax on a paper: VAT by whatever name, or a sales tax, which is another thing and has no number."""

SHORT_MOST = 7  # columns the head of a rate may take


def is_sales_tax(word: str) -> bool:
    """Whether the word is that of a sales tax, charged once at the end: no VAT number stands with it.

    Examples
    --------
    >>> is_sales_tax("County sales tax"), is_sales_tax("VAT")
    (True, False)
    """
    return "sales tax" in " ".join(word.casefold().split())


def before_tax(word: str) -> str:
    """Name a sum the tax is not in yet.

    Examples
    --------
    >>> before_tax("VAT"), before_tax("Sales tax")
    ('Without VAT', 'Before sales tax')
    """
    return f"Before {word[:1].lower()}{word[1:]}" if is_sales_tax(word) else f"Without {word}"


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
