"""Commands of the workings: list the sums, describe one, work one. No records are opened for them."""

import json
import sys
from argparse import Namespace
from typing import Any

from shopcli.cli.common import clean, table
from shopcli.workings.frame import Input, Value, Worked, Working
from shopcli.worklists.typed_inputs import read_inputs
from shopcli.worklists.workings_at_hand import (
    ASCII_ONLY,
    draws_plainly,
    every_working,
    pictured,
    work,
    working_named,
)
from shopcli.worklists.workings_examples import EXAMPLES, split_words
from shopcli.worklists.workings_words import (
    answer_lines,
    asked_of,
    hung,
    input_line,
    inputs_said,
    may_be_left_out,
)

WIDTH = 80


def workings(args: Namespace) -> int:
    """List every sum, or print the docs page."""
    if args.page:
        from shopcli.worklists.workings_page import page_text

        sys.stdout.write(page_text())
        return 0
    every = every_working().values()
    if args.json:
        _print_json([{"name": w.name, "subject": w.subject, "title": w.title} for w in every])
        return 0
    print(table(("name", "subject", "title"), [(w.name, w.subject, w.title) for w in every]))
    return 0


def working(args: Namespace) -> int:
    """Describe one sum."""
    found = working_named(args.name)
    if args.json:
        _print_json(_described(found))
        return 0
    print(clean(f"{found.name}: {found.title}"))
    print()
    asked = asked_of(found)
    column = max(len(each.name) for each in asked) + 2
    for each in asked:
        first, *rest = hung(_takes(each), WIDTH - column, "")
        print(clean(f"{each.name:<{column}}{first}"))
        for line in rest:
            print(clean(" " * column + line))
    print()
    for line in (
        *(caution for each in found.cautions for caution in hung(each, WIDTH, "! ")),
        *hung(f"good for: {found.good_for}", WIDTH, ""),
        *hung(f"source: {found.source}", WIDTH, ""),
        f"example: shopcli work {found.name} {EXAMPLES[found.name]}",
    ):
        print(clean(line))
    return 0


def work_one(args: Namespace) -> int:
    """Work one sum from what was typed."""
    found = working_named(args.name)
    inputs = read_inputs(found, split_words(found, args.inputs))
    told = {**inputs, ASCII_ONLY: True} if args.ascii and draws_plainly(found) else inputs
    worked = work(found, told)
    if args.json:
        _print_json(_answered(found, inputs, worked, plain=args.ascii))
        return 0
    for label, text in inputs_said(found, inputs):
        print(clean(f"{label}: {text}"))
    print()
    for line in answer_lines(worked, plain=args.ascii, width=WIDTH):
        print(clean(line))
    print()
    for line in hung(f"source: {found.source}", WIDTH, ""):
        print(clean(line))
    return 0


def _takes(asked: Input) -> str:
    label, takes, left_out = input_line(asked)
    needed = f"left out: {left_out}" if left_out.strip("-") else "may be left out"
    return f"{label}: {takes} ({needed if may_be_left_out(asked) else 'needed'})"


def _described(found: Working) -> dict[str, Any]:
    return {
        "name": found.name,
        "title": found.title,
        "subject": found.subject,
        "inputs": [_asked(each) for each in found.inputs],
        "source": found.source,
        "good_for": found.good_for,
        "cautions": list(found.cautions),
        "example": EXAMPLES[found.name],
    }


def _asked(each: Input) -> dict[str, Any]:
    return {
        "name": each.name,
        "label": each.label,
        "kind": each.kind,
        "quantity": each.quantity,
        "unit": each.unit,
        "low": each.low,
        "high": each.high,
        "default": each.default,
        "required": each.required,
        "choices": list(each.choices),
        "help": each.help,
    }


def _answered(found: Working, inputs: dict[str, Value], worked: Worked, *, plain: bool) -> dict[str, Any]:
    answer: dict[str, Any] = {
        "working": found.name,
        "inputs": inputs,
        "results": {r.name: {"value": r.value, "unit": r.unit, "text": r.text} for r in worked.results},
        "steps": list(worked.steps),
        "source": found.source,
        "cautions": list(worked.cautions),
    }
    if worked.verdict:
        answer["verdict"] = worked.verdict
    if worked.picture:
        answer["picture"] = pictured(worked, plain=plain)
    return answer


def _print_json(value: object) -> None:
    json.dump(value, sys.stdout, ensure_ascii=False, indent=2, allow_nan=False)
    print()
