"""JupyterLab as a program to start and stop, and a lesson open in it as a page to read and press keys on."""

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import nbformat
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, expect

# Beside playwright's own flags, which keep Chromium's sandbox out of root's way and background traffic away.
CHROMIUM_FLAGS = ["--disable-gpu", "--disable-quic", "--disable-sync"]
# A profile: a laptop's screen, and no moving dots, which keep a processor busy that has no help from a graphics card.
PROFILE = {"viewport": {"width": 1366, "height": 768}, "reduced_motion": "reduce", "accept_downloads": True}
PATIENCE = 60_000  # milliseconds; a busy machine with two cores may be slow
expect.set_options(timeout=PATIENCE)
START = 60  # seconds
END_KERNELS = """async () => {
    const headers = {"X-XSRFToken": document.cookie.match(/_xsrf=([^;]+)/)[1]};
    const sessions = await (await fetch("/api/sessions")).json();
    await Promise.all(sessions.map(({id}) => fetch(`/api/sessions/${id}`, {method: "DELETE", headers})));
}"""


class JupyterLab(NamedTuple):
    """A running JupyterLab: its address, and its folder of notebooks."""

    url: str
    notebooks: Path


@contextmanager
def started(home: Path, ports: bool = False) -> Iterator[JupyterLab]:
    """JupyterLab started as README says, but on a free port, without a token, and with settings of its own.

    With `ports` kernels are spoken to through ports, as they usually are, and may start at the same time; else through
    files, whose names two kernels that start together may both take.
    """
    config, root = home / "config", home / "root"
    config.mkdir()
    # Root needs leave to start it; a reader is not root, so README does not say so.
    (config / "jupyter_server_config.json").write_text(json.dumps({"ServerApp": {"allow_root": True}}))
    environment = os.environ | {"JUPYTER_CONFIG_PATH": str(config), "JUPYTER_PREFER_ENV_PATH": "1"}
    environment |= {"JUPYTER_CONFIG_DIR": str(home / "own"), "JUPYTER_RUNTIME_DIR": str(home / "runtime")}
    command = [sys.executable, "-m", "jupyterlab", "--no-browser", f"--ServerApp.root_dir={root}"]
    command += ["--LabApp.default_url=/doc/tree/notebooks/start_here.ipynb", "--IdentityProvider.token="]
    command += ["--ServerApp.ip=127.0.0.1", "--ServerApp.port=0"]
    # A socket's path may have some hundred letters, so it is not in the tests' own deep directory.
    with (home / "log.txt").open("w", encoding="utf-8") as log, tempfile.TemporaryDirectory() as sockets:
        if (
            sys.platform != "win32" and not ports
        ):  # a port is picked, freed and only then taken, and another test may be quicker
            command += ["--KernelManager.transport=ipc", f"--KernelManager.ip={Path(sockets) / 'kernel'}"]
        pipes = {"stdin": subprocess.DEVNULL, "stdout": log, "stderr": subprocess.STDOUT}
        process = subprocess.Popen(command, cwd=root, env=environment, **pipes)
        try:
            yield JupyterLab(_address(home, process), root / "notebooks")
        finally:
            process.terminate()
            try:
                process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def _address(home: Path, process: subprocess.Popen) -> str:
    """What the server writes to a file once it listens."""
    info = home / "runtime" / f"jpserver-{process.pid}.json"
    for _ in range(10 * START):
        if process.poll() is not None:
            break
        if info.exists() and (text := info.read_text(encoding="utf-8")):
            return json.loads(text)["url"].rstrip("/")
        time.sleep(0.1)
    raise RuntimeError("JupyterLab did not start:\n" + (home / "log.txt").read_text(encoding="utf-8"))


def write_notebook(file: Path, *cells: str):
    """Write a notebook with one cell of code for each text."""
    kernel = {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}
    code = [nbformat.v4.new_code_cell(cell) for cell in cells]
    nbformat.write(nbformat.v4.new_notebook(cells=code, metadata={"kernelspec": kernel}), file)


class LessonPage:
    """A lesson open in JupyterLab."""

    def __init__(self, page: Page, url: str, name: str, starts: bool = True):
        self.page = page
        if not starts:
            page.route("**/sigcalc-lessons/**", lambda route: route.abort())
        self._name = name
        page.set_default_timeout(PATIENCE)
        page.goto(f"{url}/doc/tree/notebooks/{name}?reset")
        self.wait_until_idle()

    def wait_until_idle(self):
        """Wait until the kernel has nothing to do, which the status bar says in words, hidden on a page of its own."""
        self.page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(state="attached")

    def run_all(self):
        """Run all cells of a notebook just opened, through the menu."""
        self.page.get_by_role("menuitem", name="Run", exact=True).click()
        self.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        self.wait_until_run()

    def run_cell(self, number: int):
        """Run one code cell by its key."""
        self.page.locator(".jp-CodeCell").nth(number).locator(".cm-content").click()
        self.page.keyboard.press("Control+Enter")

    def wait_until_run(self):
        """Wait until each code cell has its number, and the bar of a lesson that starts by itself is gone."""
        waiting = self.page.locator(".jp-CodeCell .jp-InputPrompt").filter(has_text=re.compile(r"^\[[ *]\]:$"))
        for _ in range(PATIENCE // 100):
            if self.errors.count() or not waiting.count():
                break
            self.page.wait_for_timeout(100)
        self.wait_until_idle()
        assert not self.errors.count(), f"{self._name}: {self.errors.first.inner_text()}"
        expect(waiting).to_have_count(0)
        expect(self.page.locator(".sigcalc-starting")).to_have_count(0)

    @property
    def errors(self) -> Locator:
        """The error outputs, refusals and warnings of cells; a panel's own refusals are none of them."""
        refusal = ".jp-OutputArea-output[data-mime-type='text/html'] > .sigcalc-alert"
        return self.page.locator(f"[data-mime-type='application/vnd.jupyter.stderr'], {refusal}")

    def save(self):
        """Save the notebook, and wait until that is done."""
        with self.page.expect_response(lambda reply: reply.request.method == "PUT" and self._name in reply.url):
            self.page.keyboard.press("Control+s")

    def end_kernel(self):
        """What a night does: the kernel is gone, and the page is closed."""
        self.page.evaluate(END_KERNELS)
        self.page.close()

    def slider(self, name: str) -> Locator:
        """The handle of the slider with this text beside it (a handle itself has no name)."""
        row = self.page.locator(".widget-slider", has=self.page.get_by_text(name, exact=True))
        return row.locator(".noUi-handle")

    def type_into(self, name: str, text: str):
        """Replace the text of the field with this accessible name, and leave the field."""
        field = self.page.get_by_label(name, exact=True).and_(self.page.locator("input, textarea"))
        field.fill(text)
        field.press("Tab")

    def expect_text(self, selector: str, text: str | re.Pattern):
        """Wait until the element shows the text."""
        expect(self.page.locator(selector)).to_contain_text(text)

    def text(self, selector: str) -> str:
        """The text that the element shows."""
        return self.page.locator(selector).inner_text()

    def barriers(self) -> list[str]:
        """What axe finds serious or critical for people with disabilities, in what is ours on the page."""
        ours = [[each] for each in (".sigcalc-panel", ".sigcalc-exercise", ".jp-RenderedHTMLCommon")]
        there = [each for each in ours if self.page.locator(each[0]).count()]
        # To axe what is scrolled away is hidden, and so is all text where the body has no height, as JupyterLab's.
        shown, seen = self.page.viewport_size, self.page.add_style_tag(content="body { height: 100vh; }")
        tall = self.page.locator(".jp-WindowedPanel-outer").evaluate("pane => pane.scrollHeight")
        self.page.set_viewport_size({"width": shown["width"], "height": tall + 200})
        found = Axe().run(self.page, context={"include": there}).response["violations"]
        self.page.set_viewport_size(shown)
        seen.evaluate("style => style.remove()")
        grave = [each for each in found if each["impact"] in ("serious", "critical")]
        return [f"{each['id']}: {node['html']}" for each in grave for node in each["nodes"]]

    def error_count(self) -> int:
        """Error outputs on the page and messages in JupyterLab's log, where a failing callback leaves its traceback."""
        log = self.page.locator(".jp-LogConsoleStatusItem")
        counts = [int(count) for item in log.all_text_contents() for count in re.findall(r"\d+", item)]
        return sum(counts) + self.errors.count()
