"""Runs a notebook and tells everything that went wrong in it, also what Jupyter hides.

A notebook that ran without an exception is not yet a good one: ipywidgets keeps the errors of many callbacks out of the
reply, and a panel may break only at its slider's end. So all outputs are searched, and a last cell moves every control.
"""

import json
import sys
import tempfile
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import matplotlib.font_manager  # noqa: F401 builds matplotlib's font cache here, where its "please wait" disturbs nobody
import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbclient.output_widget import OutputWidget

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
OUTPUT_WIDGETS = "@jupyter-widgets/output"
WIDGET_STATE = "application/vnd.jupyter.widget-state+json"
MOVER = Path(__file__).with_name("move_controls.py")


@dataclass
class Run:
    """The result of a notebook: the faults found, a sentence each, and its panels with their controls."""

    faults: list[str] = field(default_factory=list)
    panels: list[dict] = field(default_factory=list)


def run_notebook(path: Path) -> Run:
    """Run a notebook in its own folder, move every control, and collect the faults."""
    notebook = nbformat.read(path, as_version=4)
    _forget_saved_outputs(notebook)
    run = Run()
    with _client(notebook, path.parent) as client:
        try:
            for index, cell in enumerate(notebook.cells):
                client.execute_cell(cell, index)
            report = _move_controls(client, notebook)
        except CellExecutionError as error:
            run.faults.append(f"{error.ename}: {error.evalue}")
            return run
        client.set_widgets_metadata()
    run.panels = [panel for panel in report["panels"] if panel["controls"]]
    run.faults += report["failures"]
    run.faults += [fault for output in _outputs(notebook) if (fault := _fault(output))]
    run.faults += [
        f"nothing moves in the panel with {', '.join(panel['controls'])}"
        for panel in run.panels
        if not panel["changed"]
    ]
    return run


class _Listener(OutputWidget):
    """Keeps what an output widget shows, and does not tell the kernel.

    To send on the channel on which a reply is awaited may lose the reply: pyzmq's asyncio sockets wait for a signal
    that libzmq gives once, jupyter_client sends past them, and the sending takes the signal of what has just come.
    """

    def sync_state(self):
        pass


@contextmanager
def _client(notebook, folder: Path):
    """A client with a kernel of its own, in the folder.

    Jupyter picks a kernel's ports, frees them, and lets the kernel take them: where several tests run at once, another
    kernel may be quicker. Sockets in a directory of our own have no such race; Windows has ports only.
    """
    client = NotebookClient(notebook, timeout=400, kernel_name="python3", resources={"metadata": {"path": str(folder)}})
    client.shutdown_kernel = "immediate"  # nothing is left to be done there
    client.widget_registry = {OUTPUT_WIDGETS: {"OutputModel": _Listener}}
    with tempfile.TemporaryDirectory() as sockets:
        manager = client.create_kernel_manager()
        if sys.platform != "win32":
            manager.transport, manager.ip = "ipc", str(Path(sockets) / "kernel")
        with client.setup_kernel():
            yield client


def _forget_saved_outputs(notebook):
    notebook.metadata.pop("widgets", None)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None


def _move_controls(client, notebook) -> dict:
    views = [
        output.data[WIDGET_VIEW]["model_id"] for output in _outputs(notebook) if WIDGET_VIEW in output.get("data", {})
    ]
    code = f"{MOVER.read_text(encoding='utf-8')}\nmove_all({views!r})"
    notebook.cells.append(nbformat.v4.new_code_cell(code))
    cell = client.execute_cell(notebook.cells[-1], len(notebook.cells) - 1)
    printed = "".join(output.text for output in cell.outputs if output.get("name") == "stdout")
    return json.loads(printed.splitlines()[-1])


def _outputs(notebook):
    """Every output of the cells, and of the output widgets, which nbclient keeps elsewhere."""
    for cell in notebook.cells:
        yield from cell.get("outputs", [])
    state = notebook.metadata.get("widgets", {}).get(WIDGET_STATE, {}).get("state", {})
    for widget in state.values():
        yield from map(nbformat.from_dict, widget["state"].get("outputs") or [])


def _fault(output) -> str | None:
    if output.output_type == "error":
        return f"{output.ename}: {output.evalue}"
    if output.output_type == "stream" and output.name == "stderr":
        return f"on stderr: {output.text.strip()}"
    return None
