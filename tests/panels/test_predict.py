"""A guess and what is said of it: nothing while it is made, and the sentence that fits it afterwards."""

import html

import pytest

from sigcalc.lessons import Prediction
from sigcalc.lessons import progress as record
from sigcalc.panels import predict
from sigcalc.panels.afresh import StartAfresh
from sigcalc.panels.predict import Predict, YouSaid, after_guess
from sigcalc.panels.start_here import FirstLight


def light_or_dark():
    options = {"it is <dark>": "so it was.", "it shines": "so many think."}
    return Prediction.seeing("It stayed dark.", "What do you expect?", options)


@pytest.fixture(autouse=True)
def lessons_folder(tmp_path, monkeypatch):
    (tmp_path / "start_here.ipynb").touch()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(record.PROGRESS, "_here", {})
    monkeypatch.setattr(predict, "_GUESSES", {})


def page_of(*parts):
    """All that the browser is told of these widgets: what a page shows, and what a saved notebook holds."""
    return html.unescape("".join(str(each.get_state()) for part in parts for each in (part, *below(part))))


def below(part):
    children = [*getattr(part, "children", ())]
    return children + [each for child in children for each in below(child)]


def test_what_answers_a_guess_is_nowhere_before_it_is_asked_for():
    asked, said = Predict(light_or_dark), YouSaid(light_or_dark)
    (one,), (back,) = asked.asked, said.looked_back
    assert one.options.value is None
    assert "You made no guess" in page_of(said)
    for choice in (None, *light_or_dark().options):
        one.options.value = choice
        covered = page_of(asked, said)
        assert "It stayed dark" not in covered
        assert not any(answer in covered for answer in light_or_dark().options.values())
        back.button.click()
        assert html.unescape(back.told.value) == f'<p role="status">{light_or_dark().told(choice or "")}</p>'
        assert "It stayed dark" not in page_of(asked)
    assert "<dark>" not in back.told.value
    back.button.click()
    assert "It stayed dark" not in page_of(asked, said)


def test_a_guess_is_there_in_the_next_kernel_and_its_answer_covered_until_the_lesson_starts_afresh(monkeypatch):
    Predict(light_or_dark).asked[0].options.value = "it shines"
    YouSaid(light_or_dark).looked_back[0].button.click()
    monkeypatch.setattr(predict, "_GUESSES", {})
    asked, (back,) = Predict(light_or_dark), YouSaid(light_or_dark).looked_back
    assert asked.asked[0].options.value == "it shines"
    assert "You said “it shines”." in back.told.value
    back.button.click()
    afresh = StartAfresh("test_predict")
    for _ in "with a guess", "and with none":
        afresh.button.click()
        assert asked.asked[0].options.value is None
        assert "no guess" in back.told.value
        assert "It stayed dark" not in back.told.value
        back.button.click()


def test_a_panel_s_picture_waits_for_the_guess_or_until_it_is_asked_for():
    asked, panel = Predict(light_or_dark), after_guess(FirstLight(), light_or_dark)
    curtain = panel.columns.children[-1]
    for look in (curtain.button.click, lambda: asked.asked[0].options.set_trait("value", "it shines")):
        assert "sigcalc-unguessed" in panel._dom_classes
        look()
        assert "sigcalc-unguessed" not in panel._dom_classes
        StartAfresh("test_predict").button.click()
    asked.asked[0].options.value = "it shines"
    assert "sigcalc-unguessed" not in after_guess(FirstLight(), light_or_dark)._dom_classes


def test_several_are_numbered():
    asked = Predict(light_or_dark, light_or_dark)
    assert [each.children[0].value[:12] for each in asked.asked] == ["<p><b>1. </b", "<p><b>2. </b"]
