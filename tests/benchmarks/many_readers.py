"""Memory and time of many readers at once; run by hand on Linux: python -m tests.benchmarks.many_readers.

One JupyterLab is started as README says, and in it so many kernels, each of which runs a lesson's code cells through
the server, as a browser does: all at the same time. Then the memory of each process is read: RSS, all that it has in
memory, and PSS, in which a page that several processes share counts for each of them in part, so that the sum of PSS
is what the machine needs. Other programs that run from the same files make PSS smaller, and whatever else the machine
does makes the seconds longer, but not the processor time.

`python -m tests.benchmarks.many_readers 10 3_two_wires_two_colours` takes ten readers of lesson 3;
`python -m tests.benchmarks.many_readers 1` runs every lesson with one reader, one after the other.
"""

from __future__ import annotations

import asyncio
import json
import os
import shutil
import sys
import tempfile
import time
import urllib.request
import uuid
from http.cookiejar import CookieJar
from pathlib import Path
from typing import Any, NamedTuple

import nbformat
from tornado.httpclient import HTTPRequest
from tornado.websocket import WebSocketClientConnection, websocket_connect

from tests.browser.lab import started

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
NOT_OURS = shutil.ignore_patterns(".ipynb_checkpoints", "my_plans", "my_progress*")
READERS, LESSON = 10, "1_why_a_resistor"
PATIENCE = 300  # s


def tell(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


class Use(NamedTuple):
    """What a process has in memory, in MB, and has had of a processor, in s."""

    rss: float
    pss: float
    processor: float

    @classmethod
    def of(cls, process: Path) -> Use:
        """Of a process by its folder in /proc."""
        rows = (line.split() for line in (process / "smaps_rollup").read_text().splitlines()[1:])
        memory = {row[0]: int(row[1]) * 1024 / 1e6 for row in rows}
        ticks = (process / "stat").read_text().rpartition(")")[2].split()[11:13]  # its own, and the system's for it
        return cls(memory["Rss:"], memory["Pss:"], sum(map(int, ticks)) / os.sysconf("SC_CLK_TCK"))

    def __str__(self) -> str:
        return f"RSS {self.rss:.0f} MB, PSS {self.pss:.0f} MB, {self.processor:.1f} s of processor time"


class Server:
    """A running server, asked as a browser would."""

    def __init__(self, url: str):
        self.url, cookies = url, CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(cookies))
        self._opener.open(f"{url}/lab").close()
        (self._xsrf,) = (each.value for each in cookies if each.name == "_xsrf")

    def ask(self, method: str, path: str, said: Any = None) -> Any:
        """The answer to one request."""
        headers = {"X-XSRFToken": self._xsrf, "Content-Type": "application/json"}
        data = None if said is None else json.dumps(said).encode()
        with self._opener.open(urllib.request.Request(f"{self.url}/api/{path}", data, headers, method=method)) as reply:
            return json.loads(reply.read() or "null")

    def open_lesson(self, lesson: str) -> tuple[str, str]:
        """The ids of a new session and its kernel; each has a path of its own, as two readers have."""
        path = f"notebooks/{lesson}-{uuid.uuid4().hex}.ipynb"
        said = {"path": path, "name": lesson, "type": "notebook", "kernel": {"name": "python3"}}
        session = self.ask("POST", "sessions", said)
        return session["id"], session["kernel"]["id"]

    async def read(self, lesson: str) -> tuple[str, str]:
        """Open a lesson and run it; the ids of its session and kernel."""
        ids = await asyncio.to_thread(self.open_lesson, lesson)
        address = f"ws{self.url.removeprefix('http')}/api/kernels/{ids[1]}/channels"
        request = HTTPRequest(address, connect_timeout=PATIENCE, request_timeout=PATIENCE)
        connection = await websocket_connect(request, max_message_size=2**27)
        for cell in nbformat.read(NOTEBOOKS / f"{lesson}.ipynb", as_version=4).cells:
            if cell.cell_type == "code":
                await run_cell(connection, cell.source)
        connection.close()
        return ids


async def run_cell(connection: WebSocketClientConnection, source: str) -> None:
    """Run a cell, and take what it sends until the kernel has nothing more to do."""
    sent = uuid.uuid4().hex
    header = {"msg_id": sent, "msg_type": "execute_request", "username": "", "session": "reader", "version": "5.3"}
    content = {"code": source, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False}
    parts = {"header": header, "parent_header": {}, "metadata": {}, "content": content, "channel": "shell"}
    await connection.write_message(json.dumps(parts))
    while True:
        text = await connection.read_message()
        if text is None:
            raise ConnectionError("the server has closed the connection: the machine is too busy to measure anything")
        if isinstance(text, bytes):  # a widget's message with an attachment
            continue
        message = json.loads(text)
        if message["parent_header"].get("msg_id") != sent:
            continue
        if message["msg_type"] == "error":
            raise RuntimeError("\n".join(message["content"]["traceback"]))
        if message["msg_type"] == "status" and message["content"]["execution_state"] == "idle":
            return


def process_of(kernel: str) -> Path:
    """The folder in /proc of the process that was started with a kernel's file."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            if f"kernel-{kernel}.json" in (process / "cmdline").read_text():
                return process
        except OSError:
            continue  # it has just ended
    raise RuntimeError(f"kernel {kernel} has ended")


def parent_of(process: Path) -> Path:
    """The folder in /proc of the process that started this one."""
    (line,) = (each for each in (process / "status").read_text().splitlines() if each.startswith("PPid:"))
    return process.with_name(line.split()[1])


async def measure(server: Server, lesson: str, readers: int) -> None:
    """Let so many read a lesson at once, say what that takes, and end their kernels."""
    began = time.monotonic()
    ids = await asyncio.gather(*(server.read(lesson) for _ in range(readers)))
    seconds = time.monotonic() - began
    processes = [process_of(kernel) for _, kernel in ids]
    kernels, own = [Use.of(each) for each in processes], Use.of(parent_of(processes[0]))
    tell(f"{lesson}, {readers} at once: all have run after {seconds:.1f} s")
    for what, end in (("least", min), ("most", max)):
        tell(f"    a kernel at {what}: {Use(*(end(column) for column in zip(*kernels, strict=True)))}")
    tell(f"    the server: {own}; all together PSS {own.pss + sum(each.pss for each in kernels):.0f} MB")
    for session, _ in ids:
        await asyncio.to_thread(server.ask, "DELETE", f"sessions/{session}")


def main() -> None:
    """Read what was asked for, and measure it."""
    readers = int(sys.argv[1]) if len(sys.argv) > 1 else READERS
    every = [each.stem for each in sorted(NOTEBOOKS.glob("*.ipynb"))] if readers == 1 else [LESSON]
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        shutil.copytree(NOTEBOOKS, home / "root" / "notebooks", ignore=NOT_OURS)
        with started(home, ports=True) as lab:
            server = Server(lab.url)
            for lesson in sys.argv[2:] or every:
                asyncio.run(measure(server, lesson, readers))


if __name__ == "__main__":
    main()
