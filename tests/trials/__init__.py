"""Bad days on real processes, real files and a real server: ``python -m tests.trials mixed|kills|torn``."""
