"""The runner sees what a notebook hides: each small notebook here is good, or bad in one way."""

import nbformat
import pytest
from jupyter_client.session import Session

from tests.notebooks.runner import run_notebook

PANEL = """
import ipywidgets as w
slider = w.FloatSlider(description="Supply", min=0, max=12, value=9)
picture = w.HTML()
def draw(change=None):
    {body}
draw()
slider.observe(draw, "value")
w.VBox([slider, picture])
"""
GOOD = 'picture.value = f"{slider.value} V"'


@pytest.fixture
def run(tmp_path):
    def run(*cells):
        notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
        path = tmp_path / "lesson.ipynb"
        nbformat.write(notebook, path)
        return run_notebook(path)

    return run


def test_a_good_panel_passes_and_its_slider_moves_the_picture(run):
    result = run(PANEL.format(body=GOOD), "1 + 1")
    assert result.faults == []
    assert result.panels == [{"controls": ["FloatSlider 'Supply'"], "changed": ["FloatSlider 'Supply'"]}]


def test_the_control_goes_to_both_ends_and_back(run, tmp_path):
    run(PANEL.format(body=f"{GOOD}\n    with open('seen.txt', 'a') as seen:\n        seen.write(f'{{slider.value}} ')"))
    one_by_one, all_together = ["0.0", "12.0", "9.0"], ["0.0", "12.0", "9.0"]
    assert (tmp_path / "seen.txt").read_text().split() == ["9.0", *one_by_one, *all_together]


def test_what_a_reader_saved_does_not_count(tmp_path):
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("1 + 1")])
    error = nbformat.v4.new_output("error", ename="ZeroDivisionError", evalue="of last week", traceback=[])
    notebook.cells[0].outputs = [error]
    saved = {"state": {"a": {"state": {"outputs": [error]}}}}
    notebook.metadata["widgets"] = {"application/vnd.jupyter.widget-state+json": saved}
    nbformat.write(notebook, tmp_path / "saved.ipynb")
    assert run_notebook(tmp_path / "saved.ipynb").faults == []


def test_nothing_is_sent_while_a_reply_is_awaited(run, monkeypatch):
    """What the client sends meanwhile may hide the reply, and then the cell seems to run for ever."""
    sent, send = [], Session.send

    def note(session, stream, message, *others, **more):
        sent.append(message["msg_type"] if isinstance(message, dict) else message)
        return send(session, stream, message, *others, **more)

    monkeypatch.setattr(Session, "send", note)
    assert run("import ipywidgets as w\nw.interact(lambda x: print(1 / x), x=(0, 3))").faults
    assert "execute_request" in sent
    assert "comm_msg" not in sent


EVERY_KIND = """
import ipywidgets as w
picture = w.HTML()
kinds = [w.IntSlider, w.FloatLogSlider, w.IntRangeSlider, w.FloatText, w.Checkbox, w.Text, w.FileUpload, w.Button]
choices = [w.Dropdown, w.ToggleButtons, w.SelectMultiple]
controls = [kind() for kind in kinds] + [kind(options=[1, 2]) for kind in choices]
def draw(change=None):
    picture.value += "."
for control in controls:
    control.on_click(draw) if isinstance(control, w.Button) else control.observe(draw, "value")
w.VBox([*controls, w.VBox([picture]), w.IntText(disabled=True), w.IntProgress()])
"""


def test_every_kind_of_control_is_moved(run):
    result = run(EVERY_KIND)
    assert result.faults == []
    (panel,) = result.panels
    assert len(panel["controls"]) == 11
    assert sorted(panel["controls"]) == panel["changed"]


IN_CALLBACKS = {
    "b = w.Button(description='Save')\nb.on_click(lambda _: 1 / 0)\nb": "Button 'Save': ZeroDivisionError",
    "w.interact(lambda x: 1 / x, x=(0, 3))": "IntSlider 'x' at {'value': 0}: ZeroDivisionError",
    "t = w.Text(description='Name')\nt.observe(lambda c: 1 / len(c.new), 'value')\nt": "{'value': ''}: ZeroDivision",
    "import warnings; warnings.warn('an old name')": "an old name",
}


def test_what_goes_wrong_in_callbacks_is_told(run):
    faults = run("import ipywidgets as w", *IN_CALLBACKS).faults
    assert [said for said in IN_CALLBACKS.values() if not any(said in fault for fault in faults)] == []


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        (PANEL.format(body=f"{GOOD}; 1 / (12 - slider.value)"), "at {'value': 12.0}: ZeroDivisionError"),
        (PANEL.format(body=f"{GOOD}; 1 / slider.value"), "FloatSlider 'Supply' at {'value': 0.0}: ZeroDivisionError"),
        (PANEL.format(body='picture.value = "stuck"'), "nothing moves in the panel with FloatSlider 'Supply'"),
        ("1 / 0", "ZeroDivisionError"),
        ("b = w.Button()\nb.on_click(lambda _: 1 / 0)\nb.click()", "ZeroDivisionError"),
        ("with w.Output():\n    1 / 0", "ZeroDivisionError"),
        ("w.DatePicker(description='When')", "NotImplementedError: DatePicker"),
    ],
)
def test_a_bad_notebook_is_refused(run, cell, said):
    faults = run("import ipywidgets as w", cell).faults
    assert any(said in fault for fault in faults), faults
