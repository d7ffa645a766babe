"""Runs inside a notebook's kernel as its last cell: moves every control as a reader would, and tells what went wrong.

The browser moves a control by sending its new state, hence `set_state` and not `.value = `. ipywidgets hides errors in
some callbacks (buttons, output widgets) by showing a traceback instead of raising; those are caught on their way there.
"""

import json
import sys
from contextlib import ExitStack, contextmanager

import ipywidgets
from IPython import get_ipython
from ipywidgets.widgets import widget_float, widget_int, widget_selection
from ipywidgets.widgets.widget import _instances  # the one list of living widgets; `Widget.widgets` is deprecated

SHOWN = (ipywidgets.HTML, ipywidgets.HTMLMath, ipywidgets.Label, ipywidgets.Image)
NOT_MOVED = (*SHOWN, ipywidgets.Valid, ipywidgets.IntProgress, ipywidgets.FloatProgress)
HOSTILE_TEXT = "<b>9**9**9 &\"'</b> " * 20
RUBBISH_FILE = {"name": "x.toml", "type": "", "size": 5, "last_modified": 0, "content": memoryview(b"\x00[[=\xff")}


def spread(count):
    """Every place in a short list; of a longer one, whose lines are rows of one table, the ends."""
    return range(count) if count <= 4 else (0, count - 1)


# What a reader can bring a control to, from its least to its most. The first kind that fits counts.
POSITIONS = (
    (NOT_MOVED, lambda _: []),
    (widget_float._BoundedLogFloat, lambda log: [{"value": log.base**log.min}, {"value": log.base**log.max}]),
    (
        (widget_int._BoundedIntRange, widget_float._BoundedFloatRange),
        lambda ends: [{"value": [ends.min, ends.min]}, {"value": [ends.max, ends.max]}],
    ),
    ((widget_int._BoundedInt, widget_float._BoundedFloat), lambda box: [{"value": box.min}, {"value": box.max}]),
    ((ipywidgets.IntText, ipywidgets.FloatText), lambda _: [{"value": n} for n in (-(10**9), 0, 10**9)]),
    (widget_selection._Selection, lambda choice: [{"index": index} for index in spread(len(choice.options))]),
    (widget_selection._MultipleSelection, lambda many: [{"index": []}, {"index": list(range(len(many.options)))}]),
    ((ipywidgets.Checkbox, ipywidgets.ToggleButton), lambda _: [{"value": False}, {"value": True}]),
    ((ipywidgets.Text, ipywidgets.Textarea), lambda _: [{"value": ""}, {"value": HOSTILE_TEXT}]),
    (ipywidgets.FileUpload, lambda _: [{"value": [RUBBISH_FILE]}]),
)


def positions(control):
    """The states a reader can bring a control to; none for what nobody moves."""
    if getattr(control, "disabled", False):
        return []
    for kinds, states in POSITIONS:
        if isinstance(control, kinds):
            return states(control)
    if isinstance(control, ipywidgets.ValueWidget):
        raise NotImplementedError(f"{type(control).__name__}: add to POSITIONS how a reader moves it")
    return []


def members(widget):
    """A widget and all inside it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from members(child)


def name_of(control):
    """What a reader would call the control."""
    return f"{type(control).__name__} {getattr(control, 'description', '') or '(unnamed)'!r}"


def shown(panel):
    """Everything a reader sees change in a panel."""
    return [widget.value for widget in members(panel) if isinstance(widget, SHOWN)]


class Reader:
    """Moves controls as a reader would; keeps the errors met and which control changed which panel."""

    def __init__(self, panel_ids):
        living = list(_instances.values())
        self.panels = [_instances[panel_id] for panel_id in panel_ids]
        self.controls = [widget for widget in living if positions(widget)]
        self.homes = [control.get_state(positions(control)[0].keys()) for control in self.controls]
        self.buttons = [widget for widget in living if isinstance(widget, ipywidgets.Button) and not widget.disabled]
        self.failures = []
        self.changed = [set() for _ in self.panels]
        self.doing = ""
        get_ipython().showtraceback = self._note_shown

    def _note_shown(self, exc_tuple=None, **_):
        self._note(exc_tuple[1] if exc_tuple else sys.exception())

    def _note(self, error):
        self.failures.append(f"{self.doing}: {type(error).__name__}: {error}")

    def put(self, control, state):
        """Bring a control to a state as the browser does."""
        said = {key: value if len(str(value)) < 60 else f"{str(value)[:20]}..." for key, value in state.items()}
        self.doing = f"{name_of(control)} at {said}"
        self.try_to(control.set_state, state)

    def try_to(self, act, *given):
        """Do something, and note what it raises."""
        try:
            act(*given)
        except Exception as error:  # noqa: BLE001 whatever a reader can cause is wanted
            self._note(error)

    def press(self, button):
        """Press a button."""
        self.doing = name_of(button)
        button.click()

    def use(self, control):
        """Bring one control to each of its positions, or press it; notes which panels changed."""
        before = [shown(panel) for panel in self.panels]
        acts = [lambda state=state: self.put(control, state) for state in positions(control)]
        for act in acts or [lambda: self.press(control)]:
            act()
            for panel, old, changed in zip(self.panels, before, self.changed, strict=True):
                if shown(panel) != old and control in members(panel):
                    changed.add(name_of(control))

    def use_each(self):
        """One control after the other, each from where the notebook left it and back."""
        for control, home in zip(self.controls, self.homes, strict=True):
            self.use(control)
            self.put(control, home)
        for button in self.buttons:
            self.use(button)

    @contextmanager
    def at_once(self):
        """Moves that follow each other so quickly that a panel draws only after the last one, where it can."""
        panels = [panel for panel in self.panels if hasattr(panel, "silent")]
        with ExitStack() as stack:
            for panel in panels:
                stack.enter_context(panel.silent())
            yield
        for panel in panels:
            self.try_to(panel.redraw)

    def use_all_together(self, end):
        """All controls at the same end, 0 for the least and -1 for the most, and all buttons there."""
        with self.at_once():
            for control in self.controls:
                for state in positions(control)[end:][:1]:  # none of what is disabled by now
                    self.put(control, state)
        for button in self.buttons:
            self.press(button)

    def go_home(self):
        """Everything back to where the notebook left it."""
        with self.at_once():
            for control, home in zip(self.controls, self.homes, strict=True):
                self.put(control, home)

    def report(self):
        """What went wrong, and for each panel its controls and those that changed it."""
        movable, panels = self.controls + self.buttons, []
        for panel, changed in zip(self.panels, self.changed, strict=True):
            controls = [name_of(widget) for widget in members(panel) if widget in movable]
            panels.append({"controls": controls, "changed": sorted(changed)})
        return {"failures": self.failures, "panels": panels}


def move_all(panel_ids):
    """Do everything a reader can do and print the report as one line of JSON."""
    reader = Reader(panel_ids)
    reader.use_each()
    for end in (0, -1):
        reader.use_all_together(end)
    reader.go_home()
    sys.stdout.write(json.dumps(reader.report()) + "\n")
