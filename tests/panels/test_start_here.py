"""The first panel: the slider changes the sentence, at both ends as well."""

from sigcalc.panels.start_here import FirstLight


def test_the_slider_changes_the_sentence():
    panel = FirstLight()
    before = panel.picture.sentence
    panel["supply"].slider.value = 5.0
    assert panel.picture.sentence != before
    assert "lit with" in panel.picture.sentence


def test_both_ends_have_an_answer():
    panel = FirstLight()
    panel["supply"].slider.value = panel["supply"].least
    assert "dark" in panel.picture.sentence
    panel["supply"].slider.value = panel["supply"].most
    assert "lit with" in panel.picture.sentence


def test_no_position_overloads_the_led():
    panel = FirstLight()
    panel["supply"].value = panel["supply"].most
    assert "limit" not in panel.picture.sentence
