"""The runner sees what a notebook hides: each small notebook here is good, or bad in one way."""

import nbformat
import pytest
from jupyter_client.session import Session

from tests.notebooks.runner import run_notebook

PANEL = """
import ipywidgets as w
def panel():
    slider = w.FloatSlider(description="Supply", min=0, max=12, value=9)
    picture = w.HTML()
    def draw(change=None):
        {body}
    draw()
    slider.observe(draw, "value")
    return w.VBox([slider, picture])
panel()
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


SAVED = nbformat.v4.new_output("error", ename="ZeroDivisionError", evalue="of last week", traceback=[])


def test_a_good_panel_passes_and_its_slider_moves_the_picture_whatever_a_reader_saved(tmp_path):
    cells = [nbformat.v4.new_code_cell(each) for each in (PANEL.format(body=GOOD), "1 + 1")]
    notebook = nbformat.v4.new_notebook(cells=cells)
    notebook.cells[1].outputs = [SAVED]
    saved = {"state": {"a": {"state": {"outputs": [SAVED]}}}}
    notebook.metadata["widgets"] = {"application/vnd.jupyter.widget-state+json": saved}
    nbformat.write(notebook, tmp_path / "saved.ipynb")
    result = run_notebook(tmp_path / "saved.ipynb")
    assert result.faults == []
    assert result.panels == [{"controls": ["FloatSlider 'Supply'"], "changed": ["FloatSlider 'Supply'"]}]


def test_the_control_goes_to_both_ends_and_back(run, tmp_path):
    run(PANEL.format(body=f"{GOOD}\n        with open('seen.txt', 'a') as seen: seen.write(f'{{slider.value}} ')"))
    one_by_one, all_together = ["0.0", "12.0", "9.0"], ["0.0", "12.0", "9.0"]
    assert (tmp_path / "seen.txt").read_text().split() == ["9.0", *one_by_one, *all_together]


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


RAISING = {
    "b = w.Button(description='Save')\nb.on_click(lambda _: 1 / 0)\nb": "Button 'Save': ZeroDivisionError",
    "b = w.Button()\nb.on_click(lambda _: {}['clicked'])\nb.click()": "KeyError: 'clicked'",
    "with w.Output():\n    {}['shown']": "KeyError: 'shown'",
    "w.interact(lambda x: 1 / x, x=(0, 3))": "IntSlider 'x' at {'value': 0}: ZeroDivisionError",
    "t = w.Text(description='Name')\nt.observe(lambda c: 1 / len(c.new), 'value')\nt": "{'value': ''}: ZeroDivision",
    "import warnings; warnings.warn('an old name')": "an old name",
    PANEL.format(body=f"{GOOD}; 1 / (12 - slider.value)"): "FloatSlider 'Supply' at {'value': 12.0}: ZeroDivisionError",
    PANEL.format(body=f"{GOOD}; 1 / slider.value"): "FloatSlider 'Supply' at {'value': 0.0}: ZeroDivisionError",
    PANEL.format(body='slider.description, picture.value = "Load", "stuck"'): "the panel with FloatSlider 'Load'",
}


def test_what_goes_wrong_after_the_cells_ran_or_is_hidden_by_jupyter_is_told(run):
    """All in one kernel: each fault has words that no other has."""
    faults = run("import ipywidgets as w", *RAISING).faults
    assert [said for said in RAISING.values() if not any(said in fault for fault in faults)] == []


@pytest.mark.parametrize(
    ("cell", "said"),
    [("1 / 0", "ZeroDivisionError"), ("w.DatePicker(description='When')", "NotImplementedError: DatePicker")],
)
def test_what_stops_a_notebook_is_told(run, cell, said):
    assert any(said in fault for fault in run("import ipywidgets as w", cell).faults)
