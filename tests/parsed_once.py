"""Style sheets are parsed once a process and not once an application: the tests start some seven hundred applications.

The framework keeps the rules it parsed for as long as one application lives and never changes them; here they are
kept for the next one too. What is parsed, with which variables, is all that decides about the outcome.
"""

from typing import Any

import textual.css.stylesheet as stylesheets
from textual.css.parse import parse

_RULES: dict[object, list[Any]] = {}
_VARIABLES: dict[int, tuple[Any, int]] = {}


def _of_variables(tokens: Any) -> int:
    """Return what stands for a set of variables; the set is kept, so that its identity is not given away again."""
    kept = _VARIABLES.get(id(tokens))
    if kept is None or kept[0] is not tokens:
        named = tuple(
            (name, tuple(token.value for token in values)) for name, values in (tokens or {}).items()
        )
        kept = _VARIABLES[id(tokens)] = (tokens, hash(named))
    return kept[1]


def _parse_once(scope: str, css: str, read_from: Any, **how: Any) -> list[Any]:
    rest = tuple(sorted((name, value) for name, value in how.items() if name != "variable_tokens"))
    key = (scope, css, read_from, _of_variables(how.get("variable_tokens")), rest)
    if key not in _RULES:
        _RULES[key] = list(parse(scope, css, read_from, **how))
    return _RULES[key]


def install() -> None:
    """Let every application of this process share what was parsed."""
    stylesheets.parse = _parse_once  # type: ignore[assignment]
