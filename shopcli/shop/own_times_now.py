"""The own expected times that stand, read by SQL text: rules on their transaction, screens on theirs."""

from shopcli.shop.fetching import Fetch
from shopcli.worklists.own_factor import WHOLE

# The minutes of a task `t` as they are listed today, whatever factor was in them when it was expanded: what is learned of
# past jobs and what is foretold of open ones speak of the same minutes.
LISTED_NOW = (
    "(t.minutes * COALESCE((SELECT o.per_mille FROM own_time o WHERE o.template = t.template AND o.replaced_at IS NULL),"
    f" {WHOLE}) * 1.0 / t.own_per_mille)"
)


def own_times(fetch: Fetch) -> dict[str, int]:
    """Return the factors that stand, by template, in thousandths; what is listed as its template says is left out."""
    rows = fetch("SELECT template, per_mille FROM own_time WHERE replaced_at IS NULL")
    return {str(name): int(factor) for name, factor in rows if factor != WHOLE}
