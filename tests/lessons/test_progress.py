"""A learner's record: kept beside the lessons only, by several kernels at once, and a strange file set aside."""

import json
from concurrent.futures import ThreadPoolExecutor

import pytest

from sigcalc.lessons.progress import NAME, Answer, Progress


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "start_here.ipynb").touch()
    return tmp_path


def test_an_answer_is_there_in_the_next_kernel_and_gone_when_its_lesson_starts_afresh(folder):
    Progress(folder).keep("one.sum", Answer("16 mA", True, 3))
    Progress(folder).keep("two.sum", Answer("it shines"))
    later = Progress(folder)
    assert later.answer("one.sum") == Answer("16 mA", True, 3)
    later.forget("one")
    assert Progress(folder).answer("one.sum") is None
    assert Progress(folder).answer("two.sum") == Answer("it shines")
    assert sorted(each.name for each in folder.iterdir()) == [NAME, "start_here.ipynb"]


def test_away_from_the_lessons_nothing_is_written_but_remembered(tmp_path):
    progress = Progress(tmp_path)
    progress.keep("one.sum", Answer("16 mA", True))
    assert progress.answer("one.sum") == Answer("16 mA", True)
    assert list(tmp_path.iterdir()) == []


def test_kernels_at_once_do_not_lose_each_others_answers(folder):
    def answer(number):
        Progress(folder).keep(f"one.sum{number}", Answer(str(number), True))

    with ThreadPoolExecutor(8) as kernels:
        list(kernels.map(answer, range(24)))
    assert len(json.loads((folder / NAME).read_text())) == 24


@pytest.mark.parametrize(
    "strange",
    [
        *("", "{", "[]", "7", '{"one.sum": 3}', '{"one.sum": {"said": 7}}', '{"one.sum": {"said": "a", "more": 1}}'),
        *("[" * 5000, '{"one.sum": {"said": "' + "a" * 300 + '"}}', "\x00\xff", " " * 600_000),
    ],
)
def test_a_strange_file_is_set_aside_whole_and_said_so(folder, strange):
    (folder / NAME).write_text(strange, encoding="utf-8")
    progress = Progress(folder)
    assert progress.answer("one.sum") is None
    (aside,) = folder.glob("my_progress_set_aside_*.json")
    assert aside.read_text(encoding="utf-8") == strange
    assert aside.name in progress.news()
    assert progress.news() == ""
    progress.keep("one.sum", Answer("16 mA", True))
    assert Progress(folder).answer("one.sum") == Answer("16 mA", True)


def test_what_cannot_be_written_is_done_without(folder):
    (folder / NAME).mkdir()
    progress = Progress(folder)
    (folder / f".{NAME}.lock").mkdir()
    progress.keep("one.sum", Answer("16 mA", True))
    assert "All else works" in progress.news()
    assert progress.answer("one.sum") == Answer("16 mA", True)


def test_a_very_long_answer_is_cut_short(folder):
    Progress(folder).keep("one.sum", Answer("9" * 5000, False))
    assert len(Progress(folder).answer("one.sum").said) == 200
