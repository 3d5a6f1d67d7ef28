"""What is said when the report was written."""

from shopcli.papers.week.giving import export, paper_file, tables_file
from shopcli.papers.week.giving import write_paper as written_paper
from shopcli.shop.week_period import Period
from shopcli.store.shop import Shop


def write_paper(shop: Shop, period: Period, role: str) -> str:
    """Write the page, and say where it is."""
    return f"The report is in {written_paper(shop, period, role)}"


def write_tables(shop: Shop, period: Period, role: str) -> str:
    """Write the tables, and say where they are."""
    made = export(shop, period, role)
    return f"{len(made)} files are in {made[-1].parent}, the last is {made[-1].name}"


__all__ = ["paper_file", "tables_file", "write_paper", "write_tables"]
