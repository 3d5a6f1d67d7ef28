"""A finding on a paper: how bad in words, what and where, and the sign that stands before it."""

from shopcli.papers.blocks import Para
from shopcli.papers.telling import finding_text
from shopcli.papers.writing import Writing
from shopcli.present import severity, severity_long
from shopcli.shop.views import FindingView


def finding(f: FindingView, w: Writing) -> Para:
    """Return a finding as a paragraph."""
    return Para(
        f"{severity_long(f.severity)}. {finding_text(f)}", mark=severity(f.severity, plain=w.plain)[:1]
    )
