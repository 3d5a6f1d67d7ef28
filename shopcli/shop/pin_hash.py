"""What a PIN is, and how it is kept: a hash by argon2id, loaded with the first PIN that is asked and not before."""

from functools import cached_property
from typing import TYPE_CHECKING

from shopcli.errors import BadInput, StoreTrouble

if TYPE_CHECKING:
    from argon2 import PasswordHasher


SHORTEST, LONGEST = 4, 12


def see_form(pin: str) -> str:
    """Return a PIN to be set as it is, once it is seen to be one.

    Raises
    ------
    BadInput
        When it is not 4 to 12 figures.
    """
    if not (pin.isascii() and pin.isdigit() and SHORTEST <= len(pin) <= LONGEST):
        raise BadInput(f"a PIN is {SHORTEST} to {LONGEST} figures", hint="Figures only, no blanks.")
    return pin


class Argon:
    """Makes hashes and compares with them, in a time that does not tell how much of a PIN was right.

    Without `costs` they are those the library recommends, which follow RFC 9106.
    """

    def __init__(self, **costs: int) -> None:
        self._costs = costs

    @cached_property
    def _hasher(self) -> "PasswordHasher":
        from argon2 import PasswordHasher

        return PasswordHasher(**self._costs)

    def made(self, pin: str) -> str:
        """Return a new hash of a PIN; twice the same PIN gives two hashes."""
        return self._hasher.hash(pin)

    def fits(self, kept: str, pin: str) -> bool:
        """Return whether that is the PIN.

        Raises
        ------
        StoreTrouble
            When what is kept is no hash.
        """
        from argon2.exceptions import InvalidHashError, VerificationError, VerifyMismatchError

        try:
            return self._hasher.verify(kept, pin)
        except VerifyMismatchError:
            return False
        except (InvalidHashError, VerificationError) as error:
            raise StoreTrouble(
                "the PIN in the records is damaged", hint="An owner sets another one."
            ) from error

    def outdated(self, kept: str) -> bool:
        """Return whether a hash was made at other costs than would be taken now."""
        return self._hasher.check_needs_rehash(kept)
