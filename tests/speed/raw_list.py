"""The bare reference for a list: the same questions put to the driver, the rows printed as they come."""

import sqlite3
import sys
import time

file, cards, *more = sys.argv[1:]
connection = sqlite3.connect(f"file:{file}?mode=ro", uri=True)
for sql, params in ((cards, (int(time.time()), 500)), *((sql, ()) for sql in more)):
    for row in connection.execute(sql, params):
        print(*row)
