"""What a learner has answered, kept in a small file beside the lessons: theirs alone, and never in anybody's way.

It is kept only where the lessons lie (the kernel runs in their folder), so that nothing is left in other places. A file
that cannot be read is set aside; one that cannot be written is done without. Both are said once, in a sentence.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from itertools import count
from pathlib import Path

from ..errors import PlanError
from ..plan.file import write

NAME = "my_progress.json"
_BESIDE = "start_here.ipynb"
_MOST_BYTES, _LONGEST = 500_000, 200
_PATIENCE, _STALE = 2.0, 10.0  # s: longer than anybody else holds the lock; a lock that a dead kernel left


@dataclass(frozen=True)
class Answer:
    """What was said to an exercise or prediction; `right` is None where nothing is right or wrong."""

    said: str
    right: bool | None = None
    seed: int = 0


class Progress:
    """The answers of one folder, each under a key such as "why_a_resistor.coin_cell"."""

    def __init__(self, folder: Path | None = None):
        self._folder = folder
        self._here: dict[str, Answer] = {}  # of this kernel: what counts where there is no file
        self._news = ""

    @property
    def path(self) -> Path | None:
        """The file; None away from the lessons."""
        folder = Path.cwd() if self._folder is None else self._folder
        return folder / NAME if (folder / _BESIDE).exists() else None

    def news(self) -> str:
        """The sentence about a file that was set aside or cannot be written, once; "" where all is well."""
        news, self._news = self._news, ""
        return news

    def answer(self, key: str) -> Answer | None:
        """What was last said to it."""
        return self._read().get(key)

    def keep(self, key: str, answer: Answer) -> None:
        """Remember an answer in place of the one before."""
        short = Answer(answer.said[:_LONGEST], answer.right, answer.seed)
        self._change(lambda answers: answers | {key: short})

    def forget(self, lesson: str) -> None:
        """Forget all answers of a lesson."""
        self._change(lambda answers: {key: each for key, each in answers.items() if not key.startswith(f"{lesson}.")})

    def _change(self, changed: Callable[[dict[str, Answer]], dict[str, Answer]]) -> None:
        """Read, change and write under a lock, so that two kernels do not lose each other's answers."""
        path = self.path
        self._here = changed(self._here)
        if path is None:
            return
        try:
            with _locked(path):
                text = json.dumps({key: asdict(each) for key, each in sorted(changed(self._read()).items())}, indent=1)
                write(path, text + "\n")
        except (OSError, PlanError):
            self._news = f"Your answers cannot be kept: {NAME} cannot be written. All else works."

    def _read(self) -> dict[str, Answer]:
        path = self.path
        if path is None or not path.exists():
            return self._here
        try:
            if path.stat().st_size > _MOST_BYTES:
                raise ValueError("too large")
            return {key: _answer(entry) for key, entry in json.loads(path.read_text(encoding="utf-8")).items()}
        except (OSError, ValueError, TypeError, AttributeError, RecursionError):
            return self._set_aside(path)

    def _set_aside(self, path: Path) -> dict[str, Answer]:
        names = (path.with_name(f"my_progress_set_aside_{number}.json") for number in count(1))
        aside = next(each for each in names if not each.exists())
        self._news = f"{NAME} could not be read. It is now {aside.name}, and a new one was begun."
        try:
            path.replace(aside)
        except OSError:
            self._news = f"{NAME} can be neither read nor moved, so your answers are not kept. All else works."
        return self._here


def _answer(entry: dict[str, object]) -> Answer:
    """One entry of the file; ValueError or TypeError where it is none of ours."""
    answer = Answer(**entry)
    fits = type(answer.said) is str and answer.right in (True, False, None) and type(answer.seed) is int
    if not fits or len(answer.said) > _LONGEST:
        raise ValueError("no answer")
    return answer


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Hold the file's lock; OSError where it cannot be had."""
    lock, began = path.with_name(f".{path.name}.lock"), time.monotonic()
    while True:
        try:
            os.close(os.open(lock, os.O_CREAT | os.O_EXCL))
            break
        except FileExistsError:
            if time.monotonic() - began > _PATIENCE:
                raise
            if _age(lock) > _STALE:
                lock.unlink(missing_ok=True)
            time.sleep(0.01)
    try:
        yield
    finally:
        lock.unlink(missing_ok=True)


def _age(lock: Path) -> float:
    """How old a lock is, in s; 0 where it is gone by now."""
    try:
        return time.time() - lock.stat().st_mtime
    except OSError:
        return 0.0


PROGRESS = Progress()
"""The one of this kernel."""
