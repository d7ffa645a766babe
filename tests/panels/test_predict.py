"""A guess and what is said of it: nothing while it is made, and the sentence that fits it afterwards."""

import html

import pytest

from sigcalc.lessons import Prediction
from sigcalc.lessons import progress as record
from sigcalc.panels import predict
from sigcalc.panels.afresh import StartAfresh
from sigcalc.panels.predict import Predict, YouSaid


def light_or_dark():
    options = {"it is <dark>": "so it was.", "it shines": "so many think."}
    return Prediction.seeing("It stayed dark.", "What do you expect?", options)


@pytest.fixture(autouse=True)
def lessons_folder(tmp_path, monkeypatch):
    (tmp_path / "start_here.ipynb").touch()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(record.PROGRESS, "_here", {})
    monkeypatch.setattr(predict, "_GUESSES", {})


def test_no_guess_is_no_harm_and_a_guess_is_answered_and_followed():
    asked, said = Predict(light_or_dark), YouSaid(light_or_dark)
    assert "You made no guess; no harm done. It stayed dark." in said.told.value
    (one,) = asked.asked
    assert one.options.value is None
    for choice, answer in light_or_dark().options.items():
        one.options.value = choice
        assert html.unescape(said.told.value) == f"<p>You said “{choice}”, and {answer}</p>"
        assert answer not in one.told.value
    assert "<dark>" not in said.told.value


def test_a_guess_is_there_in_the_next_kernel_until_the_lesson_starts_afresh(monkeypatch):
    Predict(light_or_dark).asked[0].options.value = "it shines"
    monkeypatch.setattr(predict, "_GUESSES", {})
    asked, said = Predict(light_or_dark), YouSaid(light_or_dark)
    assert asked.asked[0].options.value == "it shines"
    assert "You said “it shines”" in said.told.value
    StartAfresh("test_predict").button.click()
    assert asked.asked[0].options.value is None
    assert "no guess" in said.told.value


def test_several_are_numbered():
    asked = Predict(light_or_dark, light_or_dark)
    assert [each.children[0].value[:12] for each in asked.asked] == ["<p><b>1. </b", "<p><b>2. </b"]
