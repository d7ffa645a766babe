"""JupyterLab as a program to start and stop, and a lesson open in it as a page to read and press keys on."""

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

# As root Chromium needs --no-sandbox; the others keep it from looking for hosts that a closed network lacks.
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = ((1366, 768), (1280, 720))
SCREENSHOTS = "SIGCALC_SCREENSHOTS"
PATIENCE = 20_000  # milliseconds; a busy machine with two cores may be slow
START = 60  # seconds


class JupyterLab:
    """JupyterLab started as README says, but on a free port, without a token, and with settings of its own."""

    def __init__(self, home: Path):
        self._home = home
        self.notebooks = home / "root" / "notebooks"
        self.url = ""
        self._socket_directory = None

    def __enter__(self):
        config = self._home / "config"
        config.mkdir()
        # Root needs leave to start it; a reader is not root, so README does not say so.
        (config / "jupyter_server_config.json").write_text(json.dumps({"ServerApp": {"allow_root": True}}))
        environment = os.environ | {
            "JUPYTER_CONFIG_PATH": str(config),
            "JUPYTER_CONFIG_DIR": str(self._home / "own"),
            "JUPYTER_RUNTIME_DIR": str(self._home / "runtime"),
            "JUPYTER_PREFER_ENV_PATH": "1",
        }
        self._log = (self._home / "log.txt").open("w", encoding="utf-8")
        self._process = subprocess.Popen(
            [
                *(sys.executable, "-m", "jupyterlab", "--no-browser"),
                "--LabApp.default_url=/lab/tree/notebooks/start_here.ipynb",
                "--ServerApp.ip=127.0.0.1",
                "--ServerApp.port=0",
                "--IdentityProvider.token=",
                *self._sockets(),
                f"--ServerApp.root_dir={self._home / 'root'}",
            ],
            cwd=self._home / "root",
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=self._log,
            stderr=subprocess.STDOUT,
        )
        self.url = self._wait_for_url().rstrip("/")
        return self

    def _sockets(self) -> list[str]:
        """Sockets for the kernels: a port is picked, freed and only then taken, and another test may be quicker."""
        if sys.platform == "win32":
            return []
        # A socket's path may have some hundred letters, so it is not in the tests' own deep directory.
        self._socket_directory = tempfile.TemporaryDirectory()
        return ["--KernelManager.transport=ipc", f"--KernelManager.ip={Path(self._socket_directory.name) / 'kernel'}"]

    def _wait_for_url(self) -> str:
        """The address, which the server writes to a file once it listens."""
        info = self._home / "runtime" / f"jpserver-{self._process.pid}.json"
        for _ in range(10 * START):
            if self._process.poll() is not None:
                break
            if info.exists() and (text := info.read_text(encoding="utf-8")):
                return json.loads(text)["url"]
            time.sleep(0.1)
        self.__exit__()
        raise RuntimeError("JupyterLab did not start:\n" + (self._home / "log.txt").read_text(encoding="utf-8"))

    def __exit__(self, *_):
        self._process.terminate()
        try:
            self._process.wait(timeout=20)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        self._log.close()
        if self._socket_directory is not None:
            self._socket_directory.cleanup()


class LessonPage:
    """A lesson open in JupyterLab."""

    def __init__(self, page: Page, url: str, name: str):
        self.page = page
        self._name = name
        page.set_default_timeout(PATIENCE)
        page.goto(f"{url}/lab/tree/notebooks/{name}?reset")
        self.wait_until_idle()

    def wait_until_idle(self):
        """Wait until the kernel has nothing to do."""
        self.page.get_by_text("Python 3 (ipykernel) | Idle").wait_for()

    def run_all(self):
        """Run all cells of a lesson just opened, through the menu, and wait until each has its number."""
        self.page.get_by_role("menuitem", name="Run", exact=True).click()
        self.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        waiting = self.page.locator(".jp-CodeCell .jp-InputPrompt").filter(has_text=re.compile(r"^\[[ *]\]:$"))
        for _ in range(PATIENCE // 100):
            if self._errors.count() or not waiting.count():
                break
            self.page.wait_for_timeout(100)
        self.wait_until_idle()
        assert not self._errors.count(), f"{self._name}: {self._errors.first.inner_text()}"
        expect(waiting).to_have_count(0)

    @property
    def _errors(self) -> Locator:
        """The error outputs, refusals and warnings of cells; a panel's own refusals are none of them."""
        refusal = ".jp-OutputArea-output[data-mime-type='text/html'] > .sigcalc-alert"
        return self.page.locator(f"[data-mime-type='application/vnd.jupyter.stderr'], {refusal}")

    def slider(self, name: str) -> Locator:
        """The handle of the slider with this text beside it (a handle itself has no name)."""
        row = self.page.locator(".widget-slider", has=self.page.get_by_text(name, exact=True))
        return row.locator(".noUi-handle")

    def press(self, control: Locator, *keys: str):
        """Put the focus on a control and press keys: `press(slider, "ArrowRight", "End")`."""
        control.scroll_into_view_if_needed()
        for key in keys:
            control.press(key)

    def type_into(self, name: str, text: str):
        """Replace the text of the field with this accessible name, and leave the field."""
        field = self.page.get_by_label(name, exact=True)
        field.fill(text)
        field.press("Tab")

    def expect_text(self, selector: str, text: str | re.Pattern):
        """Wait until the element shows the text."""
        expect(self.page.locator(selector)).to_contain_text(text, timeout=PATIENCE)

    def text(self, selector: str) -> str:
        """The text that the element shows."""
        return self.page.locator(selector).inner_text()

    def error_count(self) -> int:
        """Error outputs on the page and messages in JupyterLab's log, where a failing callback leaves its traceback."""
        log = self.page.locator(".jp-LogConsoleStatusItem")
        counts = [int(count) for item in log.all_inner_texts() for count in re.findall(r"\d+", item)]
        return sum(counts) + self._errors.count()

    def screenshots(self, name: str):
        """Pictures of the page at the projector's sizes, into the folder that SIGCALC_SCREENSHOTS names, if it does."""
        folder = os.environ.get(SCREENSHOTS)
        if not folder:
            return
        Path(folder).mkdir(parents=True, exist_ok=True)
        for width, height in SIZES:
            self.page.set_viewport_size({"width": width, "height": height})
            self.page.screenshot(path=Path(folder) / f"{name}_{width}x{height}.png")
