"""Where papers are put on the disk: a folder, a name that is not taken, and nothing written over."""

import os
import re
from pathlib import Path

from shopcli.errors import BadInput, StoreTrouble
from shopcli.store.shop import Shop

COPIES_MOST = 100


def default_folder() -> Path:
    """Return where papers go unless somebody says otherwise: the user's documents, else where we stand."""
    from platformdirs import user_documents_path

    documents = user_documents_path()
    return documents if documents.is_dir() and os.access(documents, os.W_OK) else Path.cwd()


def paper_name(number: str, ending: str, what: str = "summary") -> str:
    """Return what a card's summary, or another paper of it, is called.

    Examples
    --------
    >>> paper_name("J00012", ".pdf"), paper_name("../J 12", ".txt", "order")
    ('J00012-summary.pdf', 'J-12-order.txt')
    """
    name = re.sub(r"[^\w-]+", "-", number, flags=re.ASCII).strip("-") or "card"
    return f"{name}-{what}{ending}"


def free_path(folder: Path, number: str, ending: str, what: str = "summary") -> Path:
    """Return a file name for a card's summary, or another paper of it, that is not taken yet."""
    whats = [what, *(f"{what}-{n}" for n in range(2, COPIES_MOST))]
    tries = [paper_name(number, ending, one) for one in whats]
    return next((folder / t for t in tries if not (folder / t).exists()), folder / tries[0])


def see_free(text: str) -> Path:
    """Return the file meant, refusing what cannot be written or is there already.

    Raises
    ------
    BadInput
        If there is no such folder, or the name is taken.
    """
    if not text.isprintable():
        raise BadInput("a file name of unprintable characters", hint="Give a folder and a name.")
    try:
        path = Path(text).expanduser()
        there, folder = path.exists(), path.parent.is_dir()
    except (OSError, ValueError, RuntimeError) as error:
        raise BadInput("that is not a file name", hint="Give a folder and a name.") from error
    if not folder:
        raise BadInput("there is no such folder", hint="Make it, or choose another.")
    if there:
        raise BadInput("that name is taken", hint="Choose another name; nothing is written over.")
    return path.absolute()


def write_new(path: Path, text: str | bytes) -> Path:
    """Write a text, or a finished file, to a file that is not there yet.

    Raises
    ------
    StoreTrouble
        If it cannot be written.
    """
    try:
        with path.open("xb") as file:
            file.write(text.encode("utf-8") if isinstance(text, str) else text)
    except OSError as error:
        reason = error.strerror or str(error)
        raise StoreTrouble(f"{path} cannot be written: {reason}", hint="Choose another folder.") from error
    return path


def papers_folder(shop: Shop) -> Path:
    """Return the folder the shop keeps its papers in; where the settings name none, the usual one."""
    return Path(shop.settings.papers_folder).expanduser() if shop.settings.papers_folder else default_folder()


def file_closed(shop: Shop, card_id: int, folder: Path | None = None) -> tuple[Path, ...]:
    """Write a closed card's invoice and summary, each as PDF and as text, and return where they are.

    Raises
    ------
    NotFound
        When the card has no invoice yet.
    StoreTrouble
        When they cannot be written.
    """
    from shopcli.papers.of_records import in_form, invoice_of, summary_of
    from shopcli.store.reads.bench import card

    number, where = card(shop, card_id).number, folder or papers_folder(shop)
    papers = (("invoice", invoice_of(shop, card_id)), ("summary", summary_of(shop, card_id)))
    made = [
        (name, ending, in_form(shop, ready, form).content)
        for name, ready in papers
        for form, ending in (("pdf", ".pdf"), ("text", ".txt"))
    ]
    _made(where)
    return tuple(write_new(free_path(where, number, ending, name), content) for name, ending, content in made)


def credit_pdf(shop: Shop, credit_note_id: int) -> tuple[str, bytes]:
    """Return a credit note as PDF, and what it is called."""
    from shopcli.papers.of_records import credit_note_of, in_form
    from shopcli.store.reads.bills import credit_note_named

    number, card = credit_note_named(shop, credit_note_id)
    content = in_form(shop, credit_note_of(shop, str(number)), "pdf").content
    return paper_name(card, ".pdf", f"credit-note-{number}"), content


def file_credit(shop: Shop, credit_note_id: int) -> tuple[Path, ...]:
    """Write a credit note into the papers folder, and return where it is.

    Raises
    ------
    StoreTrouble
        When it cannot be written.
    """
    name, content = credit_pdf(shop, credit_note_id)
    return (write_new(_made(papers_folder(shop)) / name, content),)


def _made(folder: Path) -> Path:
    """Make a folder where there is none yet."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = error.strerror or str(error)
        raise StoreTrouble(f"{folder} cannot be made: {reason}", hint="Choose another folder.") from error
    return folder


def closed_pdf(shop: Shop, card_id: int, what: str) -> tuple[str, bytes]:
    """Return a closed card's ``invoice`` or ``summary`` as PDF, and what it is called.

    Raises
    ------
    NotFound
        When the card has no invoice yet.
    """
    from shopcli.papers.of_records import in_form, invoice_of, summary_of
    from shopcli.store.reads.bench import card

    ready = {"invoice": invoice_of, "summary": summary_of}[what](shop, card_id)
    return paper_name(card(shop, card_id).number, ".pdf", what), in_form(shop, ready, "pdf").content
