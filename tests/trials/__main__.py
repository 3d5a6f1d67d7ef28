"""Run a trial: ``python -m tests.trials mixed|kills|torn|chain [...]``."""

import importlib
import sys

NAMES = ("mixed", "kills", "torn", "chain")

if __name__ == "__main__":
    if len(sys.argv) < 2 or sys.argv[1] not in NAMES:
        sys.exit(f"python -m tests.trials {'|'.join(NAMES)} [...]")
    sys.exit(importlib.import_module(f"tests.trials.{sys.argv[1]}").main(sys.argv[2:]))
