"""Which page of the stores is which; each is loaded when somebody turns to it."""

from textual.screen import Screen


def page(name: str) -> Screen[None]:
    """Return a fresh page by its name in `shopcli.screens.acts_stores.PAGES`."""
    if name == "needs":
        from shopcli.screens.stores.needs import NeedsPage

        return NeedsPage()
    if name == "purchases":
        from shopcli.screens.stores.purchases import PurchasesPage

        return PurchasesPage()
    if name == "outwork":
        from shopcli.screens.stores.outwork import OutworkPage

        return OutworkPage()
    if name == "exchanges":
        from shopcli.screens.stores.exchanges import ExchangesPage

        return ExchangesPage()
    from shopcli.screens.stores.shelf import ShelfPage

    return ShelfPage()
