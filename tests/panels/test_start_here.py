"""The first panel: the slider changes the sentence, at both ends as well."""

from sigcalc.panels.start_here import FirstLight


def test_the_slider_changes_the_sentence_and_no_position_overloads_the_led():
    panel = FirstLight()
    slider = panel["supply"].slider
    said = {}
    for volts in (panel["supply"].least, 5.0, panel["supply"].most):
        slider.value = volts
        said[volts] = panel.picture.sentence
        assert ("dark" if volts == 0 else "lit with") in said[volts]
        assert "limit" not in said[volts]
    assert len(set(said.values())) == 3
