"""Forms begun and not saved, kept at the terminal's machine: a telephone that rings or a crash loses none.

Each form is a file of its own with the operation id its acts carry, so that what was saved before a crash is not
saved twice. A form that is being filled in is locked; the lock goes with the program, however that ends.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any

from shopcli.screens.remembered import state_folder

MOST = 9


@dataclass(frozen=True, slots=True)
class KeptForm:
    """A form as it was left: when it was begun (seconds UTC), a line that names it, and what it holds."""

    op: str
    begun: int
    name: str
    holds: Mapping[str, Any] = field(default_factory=dict)


class FormKeeper:
    """Keeps the forms of one shop's records. A folder that cannot be written stops nobody from filling in a form."""

    def __init__(self, place: str) -> None:
        self._mark = hashlib.sha256(place.encode()).hexdigest()[:12]
        self._held: dict[str, IO[bytes]] = {}

    def _file(self, op: str, ending: str = ".json") -> Path:
        return state_folder() / f"form-{self._mark}-{op}{ending}"

    def keep(self, form: KeptForm) -> None:
        """Write a form down as it stands, and hold it until it is let go of."""
        file = self._file(form.op)
        with suppress(OSError):
            file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            self._hold(form.op)
            new = file.with_suffix(".new")
            holds = {"begun": form.begun, "name": form.name, "holds": dict(form.holds)}
            with open(new, "w", encoding="utf-8", opener=_for_me_alone) as out:
                json.dump(holds, out, ensure_ascii=False)
            new.replace(file)

    def kept(self) -> tuple[KeptForm, ...]:
        """Return the forms nobody is filling in, the newest first."""
        found = []
        with suppress(OSError):
            for file in state_folder().glob(f"form-{self._mark}-*.json"):
                op = file.stem.rpartition("-")[2]
                if op not in self._held and (form := self._read(op)) is not None and self._hold(op):
                    self.release(op)
                    found.append(form)
        return tuple(sorted(found, key=lambda form: (-form.begun, form.op))[:MOST])

    def take_up(self, op: str) -> KeptForm | None:
        """Hold a form to go on with it; None when another terminal has it by now."""
        if not self._hold(op):
            return None
        form = self._read(op)
        if form is None:
            self.release(op)
        return form

    def _read(self, op: str) -> KeptForm | None:
        try:
            data = json.loads(self._file(op).read_text(encoding="utf-8"))
            return KeptForm(op, int(data["begun"]), str(data["name"]), dict(data["holds"]))
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def release(self, op: str) -> None:
        """Leave a form for whoever goes on with it."""
        held = self._held.pop(op, None)
        if held is not None:
            held.close()

    def throw_away(self, op: str) -> None:
        """Keep a form no longer: it was saved, or is not wanted."""
        self.release(op)
        for ending in (".json", ".lock"):
            with suppress(OSError):
                self._file(op, ending).unlink(missing_ok=True)

    def _hold(self, op: str) -> bool:
        if op in self._held:
            return True
        try:
            held = open(self._file(op, ".lock"), "wb", opener=_for_me_alone)  # noqa: SIM115 - held open as long as the form is
        except OSError:
            return False
        if not _lock(held):
            held.close()
            return False
        self._held[op] = held
        return True


def _for_me_alone(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)


def _lock(file: IO[bytes]) -> bool:
    """Lock a file without waiting; the system takes the lock away when the program ends."""
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
