"""The framework's driver for a browser, made fit for a shop: it ends with whoever listens, and hands a file over whole.

The other end is `shopcli.browser.behind`, which says how packets are made up.
"""

import json
import os
import threading
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO, Literal, TextIO

from textual import events
from textual.app import App
from textual.drivers.web_driver import WebDriver


class BrowserDriver(WebDriver):
    """Speaks through input and output of the process with the server that started it."""

    def __init__(self, app: App[Any], **more: Any) -> None:
        super().__init__(app, **more)
        self._one_at_a_time = threading.Lock()
        self._write = self._write_whole

    def _write_whole(self, packet: bytes) -> int:
        """Write a packet that no other thread's gets into the middle of; with nobody to read it the program ends."""
        left = memoryview(packet)
        try:
            with self._one_at_a_time:
                while left:
                    left = left[os.write(self.fileno, left) :]
        except OSError:
            self._leave()
        return len(packet)

    def run_input_thread(self) -> None:
        """Take in what comes, until nothing can come any more: a server that was killed leaves nobody behind."""
        super().run_input_thread()
        if not self.exit_event.is_set():
            self._leave()

    def _leave(self) -> None:
        with suppress(RuntimeError):  # the loop has ended already
            self._loop.call_soon_threadsafe(self._app.exit)

    def deliver_binary(
        self,
        binary: BinaryIO | TextIO,
        *,
        delivery_key: str,
        save_path: Path,
        open_method: Literal["browser", "download"] = "download",
        encoding: str | None = None,
        mime_type: str | None = None,
        name: str | None = None,
    ) -> None:
        """Hand a file to the browser; of its path nothing but the name is told."""
        with binary:
            read = binary.read()
        content = read.encode(encoding or "utf-8") if isinstance(read, str) else read
        head = json.dumps({"name": save_path.name, "mime": mime_type or "application/octet-stream"}).encode()
        said = head + b"\n" + content
        self._write(b"F%s%s" % (len(said).to_bytes(4, "big"), said))
        self._app.post_message(events.DeliveryComplete(key=delivery_key, path=None, name=name))
