"""Controls: what a slider and its box say to each other, what they refuse, and which names a reader hears."""

import math

import pytest

from sigcalc.errors import RangeError
from sigcalc.panels.control import NumberControl, choice, positions, switch, text_line


def supply(**more):
    return NumberControl("supply", "V", 1.5, 24, 9, **more)


def resistor():
    return NumberControl("resistor", "ohm", 1, 10_000, 470, logarithmic=True)


def test_slider_and_box_have_the_same_name_with_the_unit():
    control = supply()
    assert control.slider.description == control.box.description == control.label == "supply (V)"


def test_the_slider_moves_the_box():
    control = supply()
    control.slider.value = 12.3
    assert control.value == 12.3
    assert control.text == "12.3 V"


def test_the_box_moves_the_slider():
    control = supply()
    control.box.value = 4.25
    assert control.slider.value == pytest.approx(4.25)
    assert control.text == "4.25 V"


def test_a_number_typed_exactly_is_not_rounded_to_the_sliders_steps():
    control = resistor()
    control.box.value = 473.7
    assert control.value == 473.7
    assert control.slider.value == pytest.approx(473.7)


def test_a_logarithmic_slider_goes_in_values_of_two_digits():
    control = resistor()
    control.slider.value = 10**2.68
    assert control.value == 480.0


@pytest.mark.parametrize(("end", "value"), [("min", 1.0), ("max", 10_000.0)])
def test_both_ends_of_a_logarithmic_slider_can_be_reached(end, value):
    control = resistor()
    control.slider.value = 10 ** getattr(control.slider, end)
    assert control.checked() == value


@pytest.mark.parametrize("typed", [-1.0, 0.0, 24.1, 1e9, math.inf, math.nan])
def test_a_number_beyond_the_ends_is_refused_in_a_sentence_and_not_clipped(typed):
    control = supply()
    control.box.value = typed
    assert control.slider.value == 9
    with pytest.raises(RangeError, match=r"supply needs 1\.5 to 24 V in this panel, but .* came"):
        control.checked()


def test_each_change_calls_back_once():
    control, calls = supply(), []
    control.on_change(lambda: calls.append(control.value))
    control.slider.value = 12.0
    control.box.value = 5.0
    assert calls == [12.0, 5.0]


def test_a_choice_starts_where_it_is_told_and_gives_the_value_behind_the_name():
    control = choice("LED", [("red, bright", "red"), ("green", "green")], "green")
    assert control.value == "green"
    assert choice("series", ["E6", "E12"]).value == "E6"


def test_a_choice_may_start_with_a_value_that_counts_as_false():
    assert choice("tolerance", [("1 %", 0.01), ("none", 0.0)], 0.0).value == 0.0


def test_a_switch_is_a_named_check_box():
    control = switch("no resistor")
    control.value = True
    assert control.widget.description == "no resistor"
    assert control.value is True


def test_a_line_of_text_is_read_when_it_is_left():
    control = text_line("own drawer", "470, 1k")
    assert control.value == "470, 1k"
    assert control.widget.continuous_update is False


def test_positions_say_in_words_which_button_is_pressed():
    control = positions("reversing switch", ["A", "<B>"])
    label = control.widget.children[0]
    assert label.value == "reversing switch: <b>A</b>"
    control.value = "<B>"
    assert label.value == "reversing switch: <b>&lt;B&gt;</b>"
