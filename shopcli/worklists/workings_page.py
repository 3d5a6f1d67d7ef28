"""The docs page of all workings, made from their descriptions, so that it cannot tell of a sum that is not there.

Every example on it is read and worked while the page is made: what stands below a command is its answer.
"""

from collections.abc import Iterator, Mapping

from shopcli.workings.frame import Working
from shopcli.worklists.typed_inputs import read_inputs
from shopcli.worklists.workings_at_hand import every_working, work
from shopcli.worklists.workings_examples import EXAMPLES, example_inputs
from shopcli.worklists.workings_words import answer_lines, asked_of, input_line, may_be_left_out

_HEAD = """\
# Workings: the workshop sums

This page is made from the descriptions of the sums; do not edit it. Make it anew with
`shopcli workings --page > shopcli/workings/README.md`.

A working asks for a few inputs and answers with results, the steps that lead to them, its source, the range
it is good for and its cautions. The same description makes the bench panel (key `w`), the commands below, this
page and the `working` line of a job template.

```
shopcli workings                         every sum by name
shopcli working dwell-percent            what one asks for, its source and cautions
shopcli work gap-and-dwell gap_before="16 thou" gap_after=0,35mm
shopcli work lead-order order=1-3-4-2 rotor=anticlockwise --ascii
shopcli work convert "40 ftlb" Nm --json
```

Values are typed as read: `16 thou`, `.015"`, `0,38 mm`, `40 ftlb`, `3 1/2 in`. A bare figure is taken in the unit
the input names. Several figures are parted by blanks or `;`, and a unit said once holds for all of them. The name
of an input may be shortened as long as only one can be meant.
"""


def page_text() -> str:
    """Return the docs page.

    Returns
    -------
    str
        Markdown, ending with a line break.

    Examples
    --------
    >>> page_text().startswith("# Workings")
    True
    """
    workings = every_working()
    lines = [_HEAD, *_contents(workings)]
    subject = ""
    for working in workings.values():
        if working.subject != subject:
            subject = working.subject
            lines += [f"## {subject.capitalize()}", ""]
        lines += [*_section(working), ""]
    return "\n".join(lines).rstrip() + "\n"


def _contents(workings: Mapping[str, Working]) -> Iterator[str]:
    for subject in dict.fromkeys(w.subject for w in workings.values()):
        names = ", ".join(f"[`{w.name}`](#{w.name})" for w in workings.values() if w.subject == subject)
        yield f"- **{subject.capitalize()}**: {names}"
    yield ""


def _section(working: Working) -> Iterator[str]:
    yield f"### {working.name}"
    yield ""
    yield f"{working.title}."
    yield ""
    yield f"Good for: {working.good_for}."
    yield ""
    yield "| input | what | takes | left out |"
    yield "|---|---|---|---|"
    for asked in asked_of(working):
        label, takes, left_out = input_line(asked)
        needed = left_out if may_be_left_out(asked) else "*needed*"
        yield f"| `{asked.name}` | {_cell(label)} | {_cell(takes)} | {_cell(needed)} |"
    yield ""
    yield f"Source: {working.source}"
    yield ""
    yield from _example(working)


def _example(working: Working) -> Iterator[str]:
    yield "```"
    yield f"$ shopcli work {working.name} {EXAMPLES[working.name]}"
    yield from answer_lines(work(working, read_inputs(working, example_inputs(working))))
    yield "```"


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
