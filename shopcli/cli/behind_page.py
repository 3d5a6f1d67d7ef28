"""The application behind one page of the browser: started by the server, with everything it needs in its surroundings."""

import gc
import sys


def main() -> int:
    """Start the application; whoever sits there signs in, whatever the surroundings say."""
    gc.disable()  # as at a terminal: on again once the first picture stands
    from shopcli.screens.app import ShopApp
    from shopcli.store.shop import open_shop

    shop = open_shop()
    app = ShopApp(shop, must_sign_in=True)
    app.when_warm = gc.freeze
    app.run()
    shop.close()
    return app.return_code or 0


if __name__ == "__main__":
    sys.exit(main())
