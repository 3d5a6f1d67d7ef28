"""The records are let go of while another thread still reads them: it reads to the end, and nothing falls down."""

import subprocess
import sys

CODE = """
import sqlite3, sys, threading
from pathlib import Path
from shopcli.store.place import at_file
from shopcli.store.reader import Reader
file = Path(sys.argv[1])
sqlite3.connect(file).execute("CREATE TABLE t (n INTEGER)")
reader, begun, rows = Reader(at_file(file)), threading.Event(), []
LONG = '''WITH RECURSIVE c(n) AS (SELECT begun() UNION ALL SELECT n + 1 FROM c WHERE n < 400000) SELECT COUNT(*) FROM c'''
def work():
    reader.fetch("SELECT 1")
    held = reader._all[0]
    connection = held[0] if isinstance(held, tuple) else held
    connection.create_function("begun", 0, lambda: begun.set() or 1)
    rows.extend(reader.fetch(LONG))
for _ in range(8):
    begun.clear()
    thread = threading.Thread(target=work)
    thread.start()
    begun.wait()
    reader.close()
    thread.join()
assert rows == [(400000,)] * 8, rows
assert reader.fetch("SELECT COUNT(*) FROM t") == [(0,)], "it can be read again"
reader.close()
print("fine")
"""


def test_letting_go_waits_for_who_still_reads(tmp_path) -> None:
    """In a process of its own: what it is there to catch takes the whole process with it."""
    out = subprocess.run(
        [sys.executable, "-c", CODE, str(tmp_path / "a.db")],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert (out.returncode, out.stdout) == (0, "fine\n"), out.stderr[-2000:]
