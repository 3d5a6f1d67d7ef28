"""PINs at the shell: asked without showing them, or taken from the environment; never from the command line, where all see it.

A PIN keeps the wrong person from acting at a terminal. It does not keep out whoever may read the file of the records.
"""

import os
import sys

from shopcli.errors import BadInput
from shopcli.shop.listed import PersonView
from shopcli.shop.pin_commands import SignIn
from shopcli.store.shop import Shop

BY_ENVIRONMENT, NEW_BY_ENVIRONMENT = "SHOPCLI_PIN", "SHOPCLI_NEW_PIN"


def asked(question: str, variable: str) -> str:
    """Return a PIN from the environment, else typed at the terminal without being shown.

    Raises
    ------
    BadInput
        When there is neither.
    """
    given = os.environ.get(variable, "")
    if given:
        return given
    if not sys.stdin.isatty():
        raise BadInput(f"{question} is wanted", hint=f"Run it at a terminal, or set {variable}.")
    from getpass import getpass

    return getpass(f"{question}: ", stream=sys.stderr)


def prove(shop: Shop, person: PersonView) -> str:
    """Let somebody prove who they are, and return the PIN that did.

    Raises
    ------
    BadInput
        When there is no PIN to be had.
    Refused
        When it is wrong, or locked.
    """
    pin = asked(f"PIN of {person.name}", BY_ENVIRONMENT)
    shop.do(SignIn(person.id, pin), by=person.id)
    return pin


def asked_twice(name: str) -> str:
    """Return a new PIN, typed twice when it is typed.

    Raises
    ------
    BadInput
        When the second is another.
    """
    question = f"new PIN of {name}"
    pin = asked(question, NEW_BY_ENVIRONMENT)
    if not os.environ.get(NEW_BY_ENVIRONMENT) and asked(f"{question}, once more", NEW_BY_ENVIRONMENT) != pin:
        raise BadInput("the two are not the same", hint="Nothing was changed; begin again.")
    return pin
