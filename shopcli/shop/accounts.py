"""Which account of the shop's books a sum goes to: the settings' own numbers, by what was sold or how it was paid."""

from collections.abc import Iterable, Sequence

from shopcli.errors import BadInput

# What is on a bill; "credit" is a sum credited as goodwill, which no line of the invoice stands for.
KINDS = ("labour", "part", "surcharge", "outwork", "sundry", "fee", "credit")
SALES, PAYMENTS, ROUNDING = "sales", "payments", "rounding"

Accounts = tuple[tuple[str, str], ...]


def read_accounts(table: object) -> Accounts:
    """Return the accounts a settings file names.

    Raises
    ------
    BadInput
        When it is no table of names and texts.
    """
    if not isinstance(table, dict) or not all(isinstance(v, str) for v in table.values()):
        raise BadInput(
            "settings: accounts wants a table of names and the account of each",
            hint='Write [accounts] and below it: labour = "4000".',
        )
    return tuple(table.items())


def see_accounts(accounts: Accounts, methods: Iterable[str], name: str) -> None:
    """Refuse a name nothing is ever booked under.

    Raises
    ------
    BadInput
        Naming it, and those there are.
    """
    known = (*KINDS, SALES, ROUNDING, PAYMENTS, *methods)
    for key, _account in accounts:
        if key not in known:
            raise BadInput(
                f"{name}: accounts has '{key}', which nothing is booked under",
                hint="Known: " + ", ".join(known) + ".",
            )


def account_of(accounts: Sequence[tuple[str, str]], name: str, instead: str = "") -> str:
    """Return the account of a name, else that of what stands in for it, else nothing.

    Examples
    --------
    >>> books = (("labour", "4000"), ("sales", "4900"))
    >>> account_of(books, "labour", "sales"), account_of(books, "fee", "sales"), account_of(books, "cash")
    ('4000', '4900', '')
    """
    found = dict(accounts)
    return found.get(name) or found.get(instead, "")
