"""A refusal in a cell: one sentence for the reader, and still an error for the program that runs the notebook."""

import nbformat
import pytest
from nbclient.exceptions import CellExecutionError

from sigcalc.panels.alert import alert_html
from tests.notebooks.runner import _client

IMPORTS = "from sigcalc import Q, choose_resistor, leds\nimport sigcalc.panels.control"


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """Runs a cell in a kernel with panels: its outputs, and the error that a runner of notebooks sees."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(IMPORTS)])

    def one(code):
        notebook.cells.append(nbformat.v4.new_code_cell(code))
        with pytest.raises(CellExecutionError) as error:
            client.execute_cell(notebook.cells[-1], len(notebook.cells) - 1)
        return notebook.cells[-1].outputs, error.value

    with _client(notebook, tmp_path_factory.mktemp("cells")) as client:
        client.execute_cell(notebook.cells[0], 0)
        yield one


@pytest.mark.parametrize(
    ("code", "kind", "words"),
    [
        ('Q("9")', "UnitError", "a number with its unit"),
        ('Q("9 V") / "470"', "TypeError", "make the text a quantity"),
        ('Q("9 V") - Q("470 ohm")', "DimensionalityError", "V and Ω do not fit together"),
        ('choose_resistor("1 V", leds["bright red 3 mm"], "5 mA")', "DesignError", "supply"),
    ],
)
def test_the_cell_shows_one_sentence_and_fails(run, code, kind, words):
    (shown,), error = run(code)
    sentence = shown["data"]["text/plain"]
    assert words in sentence
    assert shown["data"]["text/html"] == alert_html(sentence)
    assert error.ename == kind
    assert error.traceback.rstrip().endswith(f"------------------\n\n\n{kind}: {sentence}")


def test_any_other_error_is_shown_as_always(run):
    (shown,), error = run('int("x")')
    assert shown["output_type"] == "error"
    assert "line 1" in error.traceback
