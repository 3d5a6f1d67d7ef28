"""The bench sheet as PDF, on one page where it can be. The typesetter is loaded with the first sheet."""

import json
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

from shopcli.errors import StoreTrouble

SIZES = (10.0, 9.0, 8.0)  # points; smaller is not read at arm's length
SEVERAL = 9.0


def typeset(data: dict[str, Any], kind: str = "pdf") -> list[bytes]:
    """Return the sheet as a PDF, or its pages as PNG pictures.

    Parameters
    ----------
    data : dict
        From `sheet_data`: texts only.
    kind : str, optional
        ``pdf`` or ``png``.

    Raises
    ------
    StoreTrouble
        When the typesetter cannot set it.
    """
    import typst

    source = files("shopcli.papers").joinpath("templates/bench_sheet.typ").read_bytes()
    text = json.dumps(data, ensure_ascii=False)
    # An empty folder is all the page could read, if it were asked to.
    with tempfile.TemporaryDirectory(prefix="sheet-") as folder:
        page = Path(folder) / "sheet.typ"
        page.write_bytes(source)
        try:
            size = next((s for s in SIZES if _pages(typst, page, folder, text, s) == 1), SEVERAL)
            made = typst.compile(
                page, root=folder, format=kind, ppi=110.0, sys_inputs={"data": text, "size": str(size)}
            )
        except (RuntimeError, OSError) as error:
            raise StoreTrouble(
                f"the sheet could not be set: {str(error)[:200]}", hint="Print it as text instead."
            ) from error
    return made if isinstance(made, list) else [made]


def _pages(typst: Any, page: Path, folder: str, text: str, size: float) -> int:
    found = typst.query(
        page, "<pages>", field="value", one=True, root=folder, sys_inputs={"data": text, "size": str(size)}
    )
    return int(found)


def bench_sheet_pdf(data: dict[str, Any]) -> bytes:
    """Return the sheet as one PDF file."""
    return typeset(data)[0]
