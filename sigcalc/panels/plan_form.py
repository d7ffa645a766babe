"""The planner's form: one input for every field of the plan, made from its model; faults are marked at their fields."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any

import ipywidgets as widgets

from ..errors import Fault, PlanError, SigcalcError
from ..parts.scale import scale_ratio
from ..plan import Plan
from ..plan.bench import USUAL_MASTS, measured
from ..plan.circuit_fields import USUAL_DRIVE, USUAL_SUPPLY
from ..plan.model import TITLES
from ..plan.section import Section, section_of
from ..plan.signal_fields import HEIGHTS, heights_to_scale
from ..units import Q
from ..units.typed import with_point
from .control import Button
from .plan_field import OWN, PlanField, drive_parts, label_of, made, plan_field, supply_parts


class PlanForm(widgets.VBox):
    """All fields of a plan, folded by section; `on_change` calls back after every edit.

    `uses` holds a switch for each section that a plan may do without, `touched` the places edited since `settled`.
    """

    def __init__(self) -> None:
        self.fields: dict[str, PlanField] = {}
        self.uses: dict[str, widgets.Checkbox] = {}
        self.touched = set[str]()
        self._changed: Callable[[], None] = lambda: None
        head: list[widgets.Widget] = []
        folded: dict[str, widgets.Widget] = {}
        for name, info in Plan.model_fields.items():
            section = section_of(info.annotation)
            if section is not None:
                folded[name] = self._fold(name, section, optional=info.default is None)
            elif name != "version":
                head.append(self._add(name, info))
        self.sections = widgets.Accordion(list(folded.values()), titles=[TITLES[name] for name in folded])
        self._order, self._faulty = list(folded), set[str]()
        self._quiet = False
        for place, parts, usual in (("supply", supply_parts, USUAL_SUPPLY), ("drive", drive_parts, USUAL_DRIVE)):
            self._follow_kind(place, parts, usual)
        for name in self.uses:
            self._show_use(name)
        self._listen()
        super().__init__([*head, self.sections])

    def _fold(self, name: str, section: type[Section], optional: bool) -> widgets.Widget:
        rows = [self._add(f"{name}.{key}", each) for key, each in section.model_fields.items()]
        members = widgets.VBox([*self._offer_heights(), *rows] if name == "mast" else rows)
        if not optional:
            return members
        self.uses[name] = widgets.Checkbox(
            description="use this section", tooltip=f"use the section {TITLES[name]}", indent=False
        )
        self.uses[name].observe(lambda _: self._show_use(name), names="value")
        return widgets.VBox([self.uses[name], members])

    def _show_use(self, name: str) -> None:
        """Say in the section's title whether it is used, and show its fields only then."""
        used, place = self.uses[name].value, self._order.index(name)
        self.sections.children[place].children[1].layout.display = "" if used else "none"
        self._show_title(name)

    def _show_title(self, name: str) -> None:
        """The section's title, with a cross before it where a fault lies in the section, for it may be folded."""
        use = f" ({'used' if self.uses[name].value else 'not used'})" if name in self.uses else ""
        cross = "✘ " if name in self._faulty else ""
        self.sections.set_title(self._order.index(name), f"{cross}{TITLES[name]}{use}")

    def _follow_kind(self, place: str, parts: Callable[[str], tuple[str, ...]], usual: dict[str, str]) -> None:
        """Offer the parts of the chosen kind; own data stay as they are."""
        part = self.fields[f"{place}.part"].widget

        def follow(change: Any) -> None:
            options = parts(change["new"])
            chosen = part.value if part.value in options else usual.get(change["new"], options[-1])
            quiet, self._quiet = self._quiet, True
            try:
                part.options = options
                part.value = chosen
            finally:
                self._quiet = quiet

        self.fields[f"{place}.kind"].widget.observe(follow, names="value")

    def _add(self, place: str, info: Any) -> widgets.Widget:
        self.fields[place] = plan_field(place, info)
        return self.fields[place].row

    def _offer_heights(self) -> tuple[widgets.Widget, ...]:
        """What the heights are to scale, and a button that takes them over."""
        self._to_scale = made(widgets.HTML, "sigcalc-note", value="")
        self.take_heights = Button(description="take these heights")
        self.take_heights.on_click(lambda _: self._take_heights())
        self.fields["scale"].widget.observe(lambda _: self._show_heights(), names="value")
        return (made(widgets.VBox, "sigcalc-field", children=[self._to_scale, self.take_heights]),)

    def heights_to_scale(self) -> dict[str, str]:
        """The heights to scale by the mast's fields, for the builder's own rule; empty where the scale is none."""
        try:
            like = Q(self.fields["mast.height"].read() or "1 mm")
        except SigcalcError:
            like = Q("1 mm")
        try:
            heights = heights_to_scale(self.fields["scale"].read())
        except SigcalcError:
            return {}
        return {name: measured(each, like) for name, each in heights.items()}

    def _show_heights(self) -> None:
        heights, (mast, *lamps) = self.heights_to_scale(), HEIGHTS.values()
        self.take_heights.disabled = not heights
        said = "To scale: " + ", ".join(f"{label_of(name)} {height}" for name, height in heights.items())
        said += (
            f". That is a mast of {mast:g} m with its lamps at {lamps[0]:g} m and {lamps[1]:g} m (from memory; real "
        )
        said += f"ones have {USUAL_MASTS[0]:g} m to {USUAL_MASTS[1]:g} m)."
        self._to_scale.value = f"<small>{html.escape(said)}</small>" if heights else ""

    def _take_heights(self) -> None:
        quiet, self._quiet = self._quiet, True
        try:
            for name, height in self.heights_to_scale().items():
                self.fields[f"mast.{name}"].widget.value = height
        finally:
            self._quiet = quiet
        self._changed()

    def waits_for_heights(self) -> str:
        """What to type next, where one or two of the three heights were changed and the others are still to come.

        "" once all three were.
        """
        heights = {name: self.fields[f"mast.{name}"] for name in HEIGHTS}
        changed = [name for name in heights if f"mast.{name}" in self.touched]
        if not 0 < len(changed) < len(heights):
            return ""
        rest = [f"{label_of(name)} ({each.widget.value})" for name, each in heights.items() if name not in changed]
        said = " and ".join(f"{label_of(name)} is {heights[name].read()}" for name in changed)
        meant = next(filter(None, (self._meant(heights[name].widget.value) for name in changed)), "")
        next_ = (
            f'Did you mean "{meant}"?' if meant else f"Type {' and '.join(rest)} next, or take the heights to scale."
        )
        return f"{said[0].upper()}{said[1:]} now. {next_}"

    def _meant(self, text: str) -> str:
        """A number without a unit with the one that makes a mast of it; "" where none does or there is one."""
        plain = with_point(text)
        if not re.fullmatch(r"[0-9]+\.?[0-9]*", plain):
            return ""
        ratio, (least, most) = scale_ratio(self.fields["scale"].read()), USUAL_MASTS
        fits = [unit for unit in ("mm", "cm", "in") if least < ratio * Q(float(plain), unit).m_as("m") < most]
        return f"{plain} {fits[0]}" if fits and fits[0] != "mm" else ""  # which it is read as

    def settled(self) -> None:
        """What is in the form is a plan: its fields are untouched again."""
        self.touched.clear()
        self._show_heights()

    def _listen(self) -> None:
        for place, widget in (*((place, field.widget) for place, field in self.fields.items()), *self.uses.items()):
            widget.observe(lambda _, place=place: self._edited(place), names="value")

    def _edited(self, place: str) -> None:
        if not self._quiet:
            self.touched.add(place)
            self._changed()

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after an edit, once for each."""
        self._changed = callback

    def read(self) -> dict[str, Any]:
        """What the form says, in the shape of a plan file."""
        said: dict[str, Any] = {}
        for place, field in self.fields.items():
            section, _, key = place.rpartition(".")
            if section in self.uses and not self.uses[section].value:
                continue
            value = field.read()
            where = said.setdefault(section, {}) if section else said
            if value is not None or field.widget.value == OWN:  # own data are said, not left out
                where[key] = value
        return said

    def write(self, plan: Plan) -> None:
        """Fill the form from a plan, without calling back; a section that is not used shows its usual values."""
        self._quiet = True
        try:
            for name, switch in self.uses.items():
                switch.value = getattr(plan, name) is not None
            for place, field in self.fields.items():
                section, _, key = place.rpartition(".")
                holder = getattr(plan, section) if section else plan
                if holder is None:
                    holder = section_of(Plan.model_fields[section].annotation)()
                field.write(getattr(holder, key))
        finally:
            self._quiet = False

    def mark(self, places: Iterable[tuple[str | int, ...]]) -> None:
        """Show at which fields faults lie; that of a whole section is shown at all its fields."""
        places = [each for each in places if each]
        self._faulty = {each[0] for each in places}
        for name in self._order:
            self._show_title(name)
        for place, field in self.fields.items():
            own = tuple(place.split("."))
            field.mark(any(own[: len(each)] == each[: len(own)] for each in places))


def changes(before: dict[str, Any], after: dict[str, Any], section: tuple[str, ...] = ()) -> Iterator[str]:
    """What differs between two readings of the form, each with its place and what it says now."""
    for name in {**before, **after}:
        old, new = before.get(name), after.get(name)
        place = place_in_the_form((*section, name))
        if isinstance(old, dict) and isinstance(new, dict):
            yield from changes(old, new, (name,))
        elif isinstance(old, dict) or isinstance(new, dict):
            yield f"{place}: {'not used' if new is None else 'used'}"
        elif old != new:
            yield f"{place}: {_words(new)}"


def _words(value: Any) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(_words, value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "empty" if value is None else str(value)


def in_the_form(refusal: SigcalcError | str) -> SigcalcError | str:
    """A refusal of a plan with each place as somebody with the form before them reads it."""
    if not isinstance(refusal, PlanError):
        return refusal
    listed = [
        each.worded(place_in_the_form(each.place)) if isinstance(each, Fault) else each for each in refusal.listed
    ]
    return PlanError(listed, refusal.more)


def place_in_the_form(place: tuple[str | int, ...]) -> str:
    """A place of the plan, such as ("drive", "current"), as somebody with the form before them reads it."""
    first, *others = place or ("plan",)
    words = [f"no. {each + 1}" if isinstance(each, int) else each.replace("_", " ") for each in others]
    return ", ".join([TITLES.get(first, first), *words])
