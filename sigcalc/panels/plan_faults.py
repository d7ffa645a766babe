"""A plan's faults in the words of the form, which names its fields otherwise than a file."""

from __future__ import annotations

import html

from ..errors import Fault, PlanError, SigcalcError
from ..plan.model import TITLES


def in_the_form(fault: Fault | SigcalcError | str) -> str:
    """A fault of a plan as somebody with the form before them reads it."""
    return fault.worded(place_in_the_form(fault.place)) if isinstance(fault, Fault) else str(fault)


def place_in_the_form(place: tuple[str | int, ...]) -> str:
    """A place of the plan, such as ("drive", "current"), as somebody with the form before them reads it."""
    first, *others = place or ("plan",)
    words = [f"no. {each + 1}" if isinstance(each, int) else each.replace("_", " ") for each in others]
    return ", ".join([TITLES.get(first, first), *words])


def faults_as_html(refusal: SigcalcError | str, what: str = "plan") -> str:
    """Why there is no study, as an alert that a screen reader speaks; each fault of a plan in the words of its form."""
    faults = [in_the_form(each) if what == "plan" else str(each) for each in getattr(refusal, "listed", (refusal,))]
    if isinstance(refusal, PlanError) and refusal.more:
        faults.append(f"and {refusal.more} more")
    items = "".join(f"<li>{html.escape(str(fault))}</li>" for fault in faults)
    return f'<div role="alert" class="sigcalc-alert"><b>This {what} cannot be studied yet:</b><ul>{items}</ul></div>'
