"""Who sees what of the week: the owner all of it; the others what stands where and what comes, no money and nobody's hours."""

from shopcli.shop.rights import is_owner

HOURS, MONEY, QUALITY = "hours", "money", "quality"


def sees(role: str) -> frozenset[str]:
    """Return what somebody of that role, or those roles, sees besides the flow and the forecast.

    Examples
    --------
    >>> sorted(sees("owner")), sorted(sees("desk"))
    (['hours', 'money', 'quality'], ['quality'])
    """
    return frozenset({HOURS, MONEY, QUALITY}) if is_owner(role) else frozenset({QUALITY})


OF_WORD = {
    "paid": HOURS,
    "clocked": HOURS,
    "unclocked": HOURS,
    "actuals": HOURS,
    "sold": MONEY,
    "invoiced": MONEY,
    "credited": MONEY,
    "discount": MONEY,
    "earned": MONEY,
    "labour": MONEY,
    "parts": MONEY,
    "unbilled": MONEY,
    "unpaid": MONEY,
    "stock": MONEY,
    "surcharges": MONEY,
    "comebacks": QUALITY,
    "limits": QUALITY,
    "waived": QUALITY,
    "practice": QUALITY,
    "tools": QUALITY,
}
"""What somebody has to see to open a figure, by the first word of its key; the others are of the flow."""


def may_open(role: str, key: str) -> bool:
    """Return whether somebody of that role may open a figure.

    Examples
    --------
    >>> may_open("owner", "invoiced"), may_open("desk", "invoiced:2026-W48"), may_open("mechanic", "waiting:parts")
    (True, False, True)
    """
    wanted = OF_WORD.get(key.partition(":")[0])
    return wanted is None or wanted in sees(role)
