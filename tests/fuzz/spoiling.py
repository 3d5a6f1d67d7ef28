"""Spoils texts as bad files and tired hands do: signs lost, doubled, swapped, pieces of other texts, odd and hostile signs."""

import random
from collections.abc import Sequence

HOSTILE = (
    "", " ", "\x00", "\x1b[2J", "\u202e", "\ufeff", "\u00a0", "é", "車", "🚗", "½", "²", "∞", "−", "٣", "Ⅷ", "\ud800",
    "[/red]", "{{7*7}}", "'; DROP TABLE card; --", "../../etc/passwd", "=1+1", "1e400", "-0", "nan", "inf", "0x1F",
    "9" * 400, "1/0", ".", ",", "..", "--", "\"", "'", "\n", "\r\n", "\t", "#", "=", "[", "]]", "[[task]]", "'''", "\\u0000",
)  # fmt: skip


def spoilt(text: str, chance: random.Random, others: Sequence[str]) -> str:
    """Return the text with one to six things wrong with it."""
    for _ in range(chance.randint(1, 6)):
        text = _once(text, chance, others)
    return text[:20_000]


def _once(text: str, chance: random.Random, others: Sequence[str]) -> str:
    at = chance.randint(0, len(text))
    end = min(len(text), at + chance.choice((1, 1, 2, 5, 40)))
    match chance.randrange(8):
        case 0:
            return text[:at] + text[end:]
        case 1:
            return text[:at] + text[at:end] * chance.choice((2, 2, 3, 50)) + text[end:]
        case 2:
            return text[:at] + chance.choice(HOSTILE) + text[at:]
        case 3:
            return text[:at] + chance.choice(HOSTILE) + text[end:]
        case 4:
            other = chance.choice(others)
            begin = chance.randint(0, len(other))
            return text[:at] + other[begin : begin + chance.choice((1, 5, 30, 200))] + text[end:]
        case 5:
            return (
                text[:at]
                + chr(chance.choice((chance.randint(0, 127), chance.randint(128, 0xD7FF))))
                + text[end:]
            )
        case 6:
            lines = text.split("\n")
            chance.shuffle(lines)
            return "\n".join(lines)
        case _:
            return text[:at]
