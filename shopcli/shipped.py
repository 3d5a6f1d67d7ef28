"""Find what travels with the program: the job templates and the sample shop.

In an installed wheel they lie inside the package; in the source tree they lie beside it, where people
can read and edit them. Everybody asks here, so that nobody has to know which of the two it is.
"""

from importlib.resources import files
from pathlib import Path

from shopcli.errors import NotFound


def shipped(name: str) -> Path:
    """Return the folder or file called `name` that came with the program.

    Parameters
    ----------
    name : str
        ``jobtemplates`` or ``sample_data``, or a path below one of them.

    Raises
    ------
    NotFound
        If it is in neither place.

    Examples
    --------
    >>> shipped("jobtemplates").is_dir()
    True
    """
    package = Path(str(files("shopcli")))
    for root in (package / "_shipped", package.parent):
        if (root / name).exists():
            return root / name
    raise NotFound(
        f"{name} did not come with this installation",
        hint="Install the program again; its data folders are missing.",
    )
