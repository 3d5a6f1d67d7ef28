"""The shop's own folder of job templates: where it is, and new files in it, which never write over an old one."""

import tempfile
from pathlib import Path

from shopcli.errors import BadInput, Refused, StoreTrouble
from shopcli.shipped import shipped
from shopcli.shop.settings import Settings
from shopcli.worklists.checking import check_path
from shopcli.worklists.library import Library
from shopcli.worklists.scaffold import own_copy
from shopcli.worklists.toml_read import NAME


def own_folder(settings: Settings) -> Path | None:
    """Return the shop's own folder, None when the settings name none."""
    return Path(settings.templates_folder).expanduser() if settings.templates_folder else None


def needed_folder(settings: Settings, chosen: str = "") -> Path:
    """Return the folder a new file goes into: the chosen one, or the shop's own.

    Raises
    ------
    BadInput
        When neither is named.
    """
    folder = Path(chosen).expanduser() if chosen else own_folder(settings)
    if folder is None:
        raise BadInput(
            "the settings name no folder for your own templates",
            hint='Write templates_folder = "…" into the settings, or give --folder.',
        )
    return folder


def copy_of(library: Library, name: str) -> str:
    """Return the text of a job template as one of the shop's own.

    Raises
    ------
    NotFound
        When there is no such job; the hint gives the nearest.
    Refused
        When it is one of the shop's own.
    """
    library.template(name)
    file = shipped("jobtemplates") / "tasks" / f"{name}.toml"
    if not file.is_file():
        raise Refused(f"'{name}' is your own already", hint=f"Change {library.template(name).file}.")
    return own_copy(name, file.read_text(encoding="utf-8"))


def write_template(folder: Path, name: str, text: str) -> Path:
    """Write a new job template into a folder of the shop's own, once it is known to be usable.

    Raises
    ------
    BadInput
        When the name cannot be one, or the text would not be usable.
    Refused
        When a file of that name is there.
    StoreTrouble
        When it cannot be written.
    """
    if not NAME.fullmatch(name):
        raise BadInput(
            f"'{name[:40]}' cannot be a name", hint="Small letters, figures and hyphens: points-mk2"
        )
    file = folder / "tasks" / f"{name}.toml"
    with tempfile.TemporaryDirectory() as place:
        draft = Path(place) / file.name
        draft.write_text(text, encoding="utf-8")
        wrong = check_path(draft, (folder,) if folder.is_dir() else ()).problems
    if wrong:
        raise BadInput(f"that would not be usable: {wrong[0].message}", hint=wrong[0].hint)
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with file.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError as error:
        raise Refused(f"{file} is there already", hint="Change that file, or choose another name.") from error
    except OSError as error:
        raise StoreTrouble(f"cannot write {file}: {error.strerror}") from error
    return file
