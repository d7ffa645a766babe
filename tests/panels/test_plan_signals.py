"""The plans beside a lesson: listed by name, layouts left out, faults said."""

import shutil
from pathlib import Path

import pytest

from sigcalc.errors import PlanError
from sigcalc.panels.plan_signals import bench_test_of, plan_files
from sigcalc.plan import Plan
from tests.plan.plans import FOLDER, QUILLHAVEN


@pytest.fixture
def beside(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "plans")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.usefixtures("beside")
def test_plans_by_their_names_and_no_layout():
    assert [name for name, _ in plan_files()] == [Plan.load(path).name for path in QUILLHAVEN]


def test_own_plans_come_after_the_examples_and_one_with_faults_by_its_file(beside):
    (beside / "my_plans").mkdir()
    Plan(name="Loop").save(beside / "my_plans" / "loop.toml")
    (beside / "my_plans" / "torn.toml").write_text("version = 1\n[red\n", encoding="utf-8")
    assert [name for name, _ in plan_files()[-2:]] == ["Loop", "torn.toml (has faults)"]
    with pytest.raises(PlanError):
        bench_test_of(plan_files()[-1][1])


def test_two_plans_of_one_name_are_told_apart_by_their_files(beside):
    (beside / "my_plans").mkdir()
    for name in ("first", "second"):
        Plan(name="Loop").save(beside / "my_plans" / f"{name}.toml")
    files = [Path("my_plans") / f"{name}.toml" for name in ("first", "second")]
    assert plan_files()[-2:] == [(f"Loop ({path})", path) for path in files]


def test_a_layout_with_faults_is_no_plan_either(beside):
    text = (beside / "plans" / "quillhaven_layout.toml").read_text(encoding="utf-8")
    (beside / "plans" / "torn_layout.toml").write_text(text.replace("length", "lenght"), encoding="utf-8")
    assert [name for name, _ in plan_files()] == [Plan.load(path).name for path in QUILLHAVEN]


def test_none_at_all(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert plan_files() == []


@pytest.mark.usefixtures("beside")
def test_the_signal_is_the_study_s():
    name, path = plan_files()[0]
    test = bench_test_of(path)
    assert test.circuit.name == name
    assert test == Plan.load(path).study().bench_test


def test_a_plan_that_cannot_be_tested_says_why(tmp_path):
    bare = tmp_path / "bare.toml"
    Plan(drive={"resistance": "0 ohm"}).save(bare)
    with pytest.raises(PlanError, match=r"bare\.toml: There are no test readings"):
        bench_test_of(bare)
