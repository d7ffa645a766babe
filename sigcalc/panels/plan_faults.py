"""A plan's faults in the words of the form: a file names its fields otherwise, and is told which lines to write."""

from __future__ import annotations

import html
import re

from ..plan.titles import TITLES

_PLACED = re.compile(r"([a-z_]+(?:\.\w+)*): (.*)", re.DOTALL)
_ALONE = ("name", "scale")  # fields that stand in no section


def in_the_form(fault: str) -> str:
    """A fault of a plan with its place and its remedy as somebody with the form before them reads it."""
    match = _PLACED.fullmatch(fault)
    if match is None or match[1].split(".")[0] not in (*TITLES, *_ALONE):
        return fault
    last = match[1].split(".")[-1]
    numbered = last.isdigit()
    advice = "write it like" if numbered else rf"set {last.replace('_', ' ')} to"
    said = re.sub(r'(?:write|type) \w+ = "([^"]*)"', rf"{advice} \1", match[2])
    said = re.sub(r'\b\w+ = "([^"]*)"', r"\1", said)
    return f"{place_in_the_form(match[1])}: {said}"


def place_in_the_form(place: str) -> str:
    """A place of the plan's file, such as "drive.current", as somebody with the form before them reads it."""
    first, *others = place.split(".")
    words = [f"no. {int(each) + 1}" if each.isdigit() else each.replace("_", " ") for each in others]
    return ", ".join([TITLES.get(first, first), *words])


def faults_as_html(faults: tuple[str, ...], what: str = "plan") -> str:
    """The faults as an alert that a screen reader speaks."""
    items = "".join(f"<li>{html.escape(fault)}</li>" for fault in faults)
    return f'<div role="alert" class="sigcalc-alert"><b>This {what} cannot be studied yet:</b><ul>{items}</ul></div>'
