"""The evening: a talk is chosen, or made of a plan, and played scene by scene; faults are listed, none is hidden."""

import html
import re
import shutil
from pathlib import Path

import pytest

from sigcalc import Talk
from sigcalc.panels.clinic_night import MINUTES, SEATS, TALK, ClinicNight
from sigcalc.panels.talk_stage import BEGIN, HOME, NEXT, SHOW, TalkStage

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
TWO = Talk(
    name="Two <scenes>",
    scene=(
        {
            "name": "One",
            "panel": "why a resistor",
            "minutes": 2,
            "question": "What < happens?",
            "cover": ["verdict", "sentence"],
            "answer": {"no resistor": True},
            "say": "Speak low.",
            "take_home": "A & B",
        },
        {"name": "Two", "panel": "first light", "minutes": 3, "question": "And then?"},
    ),
)


@pytest.fixture
def in_a_copy(tmp_path, monkeypatch):
    for name in ("talks", "plans"):
        shutil.copytree(NOTEBOOKS / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_talk_goes_on_and_back_and_covers_what_would_give_the_answer_away():
    stage = TalkStage(TWO)
    assert (stage.next.description, stage.back.disabled) == (BEGIN, True)
    assert "sigcalc-clock" not in stage.told.value
    stage.go_on()
    assert "What &lt; happens?" in stage.question.value
    assert 'data-start="0" data-end="120"' in stage.told.value
    assert stage.next.description == SHOW
    assert "sigcalc-verdict-line" not in stage.panel.view.value
    stage.go_on()
    assert stage.next.description == NEXT
    assert stage.panel.picture.brief in html.unescape(stage.panel.view.value)
    assert "do not build" in stage.panel.view.value
    stage.go_back()
    assert "sigcalc-verdict-line" not in stage.panel.view.value
    assert stage.panel["no resistor"].value is False
    for _ in range(4):
        stage.go_on()
    assert HOME in stage.question.value
    assert "<li>A &amp; B</li>" in stage.body.children[0].value
    assert stage.next.disabled
    stage.go_on()
    stage.go_back()
    assert "And then?" in stage.question.value


def test_a_scene_that_cannot_be_shown_is_told_in_its_place_and_not_over_the_answer_before():
    first, second = TWO.scene
    stage = TalkStage(TWO.with_changes(scene=(first, second.with_changes(name="No panel", panel="a brick"), second)))
    for _ in range(2):
        stage.go_on()
    assert "do not build" in stage.panel.view.value
    stage.next.click()
    assert "And then?" in stage.question.value
    assert "a brick" in stage.body.children[0].value
    stage.next.click()
    assert stage.panel.picture is not None


def test_the_speakers_lines_are_not_on_the_wall():
    stage = TalkStage(TWO)
    for _ in range(5):
        stage.go_on()
        pages = [stage.question, stage.told, *getattr(stage.body.children[0], "children", stage.body.children)]
        assert not any("Speak low" in str(getattr(each, "value", "")) for each in pages)


def test_the_evening_opens_with_a_talk_that_is_ready(in_a_copy):  # noqa: ARG001 where the files are
    night = ClinicNight()
    assert night.talk.audience == "newcomers"
    assert night.stage.talk is night.talk
    assert night.controls[MINUTES].box.disabled
    assert night.controls[SEATS].value == night.talk.seats


def test_a_talk_with_faults_has_them_all_listed(in_a_copy):
    text = (in_a_copy / "talks" / "first_evening.toml").read_text(encoding="utf-8")
    (in_a_copy / "my_talks").mkdir()
    wrong = text.replace('panel = "first light"', 'panel = "first lights"').replace("resistor = 470", "resistor = 1", 1)
    (in_a_copy / "my_talks" / "mine.toml").write_text(wrong, encoding="utf-8")
    night = ClinicNight()
    mine = [label for label, made in night.controls[TALK].widget.options if made.args[0].parent.name == "my_talks"]
    night.controls[TALK].put(mine[0])
    assert night.talk is None
    assert "first lights" in night.files.told.value
    assert "resistor needs 47 to 10000 ohm" in night.files.told.value


def test_a_talk_is_made_of_a_plan_in_the_minutes_there_are_and_saved_for_an_editor(in_a_copy):
    night = ClinicNight()
    night.controls[MINUTES].value = 9
    night.controls[TALK].put("made of quillhaven_yard")
    assert night.talk.minutes == pytest.approx(9)
    assert "Saved my_talks/my_talk.toml" in night.save()
    assert Talk.load(in_a_copy / "my_talks" / "my_talk.toml") == night.talk


def test_the_paper_is_for_as_many_seats_as_are_asked_for_and_the_page_shows_none_of_its_answers(in_a_copy):
    night = ClinicNight()
    before = night.stage
    night.controls[SEATS].value = 31
    night.files.buttons[0].click()
    assert night.stage is before
    page = (in_a_copy / "my_talks" / "my_talk.html").read_text(encoding="utf-8")
    assert "For 31 seats" in page
    table = (in_a_copy / "my_talks" / "my_talk.csv").read_text(encoding="utf-8")
    assert table == night.talk.kit_list(31).csv().replace("\r\n", "\n")
    said = re.sub("<[^>]*>", "", night.files.told.value)
    assert said.split(". ")[0] == "Saved my_talks/my_talk.html"
    assert all(name in said for name in ("Download my_talk.html", "Saved my_talks/my_talk.csv", "Download my_talk.csv"))
    night.controls[SEATS].value = 0.5
    night.files.buttons[0].click()
    assert "seats needs 1 to 200" in night.files.told.value
