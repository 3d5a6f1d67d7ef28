"""``python -m shopcli``."""

import sys

from shopcli.cli import main

sys.exit(main())
