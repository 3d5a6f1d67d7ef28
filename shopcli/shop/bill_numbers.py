"""Numbers of invoices and credit notes as they are printed: asked for by reads, which load no rules for it."""

FIGURES = 6


def bill_number(prefix: str, number: int) -> str:
    """Return a number as it is printed.

    Examples
    --------
    >>> bill_number("INV-", 123)
    'INV-000123'
    """
    return f"{prefix}{number:0{FIGURES}d}"
