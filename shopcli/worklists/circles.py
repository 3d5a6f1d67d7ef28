"""Find a circle in things that wait for one another, and name it so that a person can cut it."""

from collections.abc import Mapping, Sequence


def find_circle(waits_for: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Return one circle, its first name again at the end, or nothing when there is none.

    Names that are waited for but are not keys themselves are left aside.

    Examples
    --------
    >>> find_circle({"a": ["b"], "b": ["c"], "c": ["b"]})
    ('b', 'c', 'b')
    >>> find_circle({"a": ["b"], "b": []})
    ()
    """
    done: set[str] = set()
    for start in waits_for:
        trail: list[str] = []
        # A stack of our own: a long chain of tasks must not meet the limit of nested calls.
        stack: list[tuple[str, int]] = [(start, 0)]
        while stack:
            name, step = stack.pop()
            if step == 0:
                if name in done:
                    continue
                if name in trail:
                    return (*trail[trail.index(name) :], name)
                trail.append(name)
            below = [n for n in waits_for[name] if n in waits_for]
            if step < len(below):
                stack.append((name, step + 1))
                stack.append((below[step], 0))
            else:
                done.add(name)
                trail.pop()
    return ()
