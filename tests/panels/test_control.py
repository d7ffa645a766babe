"""Controls: what a slider and its box say to each other, what they refuse, which names a reader hears; buttons."""

import math

import pytest

from sigcalc.errors import RangeError, SigcalcError
from sigcalc.panels.control import Button, NumberControl, choice, positions, text_line
from sigcalc.parts.resistor import preferred_values


def supply():
    return NumberControl("supply", "V", 1.5, 24, 9)


def resistor():
    return NumberControl("resistor", "ohm", 1, 10_000, 470, logarithmic=True)


def test_slider_and_box_have_the_same_name_with_the_unit_and_move_each_other():
    control = supply()
    assert control.slider.description == control.box.description == control.label == "supply (V)"
    control.slider.value = 12.3
    assert (control.box.value, control.value, control.text) == ("12.3", 12.3, "12.3 V")
    control.box.value = "4.25"
    assert control.slider.value == pytest.approx(4.25)
    assert control.text == "4.25 V"


@pytest.mark.parametrize(
    ("control", "typed", "value"),
    [(supply, each, 4.25) for each in ("4.25", " 4.25 V", "4250 mV", "+4.25", "17/4 V", "4,25", "4,25 V")]
    + [(resistor, "4k7", 4700), (resistor, "473.7", 473.7)],
)
def test_the_box_takes_a_number_with_or_without_a_unit_and_rounds_nothing(control, typed, value):
    control = control()
    control.box.value = typed
    assert control.checked() == pytest.approx(value)
    assert control.slider.value == pytest.approx(value)


@pytest.mark.parametrize("typed", [4.25, 4.2, 4.3])
def test_the_browsers_rounding_of_the_sliders_place_does_not_change_what_was_typed(typed):
    control = supply()
    control.box.value = "4.25"
    control.slider.set_state({"value": typed})  # as the browser sends its place back, rounded to its steps
    assert control.box.value == "4.25"
    control.slider.set_state({"value": 4.4})  # and as it sends a step of the reader's
    assert control.box.value == "4.4"


@pytest.mark.parametrize("ohms", [470, 750, 820, 8200, 1, 10_000])
def test_the_same_on_a_logarithmic_slider(ohms):
    control = resistor()
    control.value = ohms
    place = round(math.log10(ohms) * 24)
    control.slider.set_state({"value": 10 ** (place / 24)})
    assert control.checked() == ohms
    neighbour = place - 1 if ohms == 10_000 else place + 1
    control.slider.set_state({"value": 10 ** (neighbour / 24)})
    assert control.checked() != ohms


def test_a_logarithmic_slider_goes_through_preferred_values_and_no_step_is_without_effect():
    control, seen = resistor(), []
    for step in range(4 * 24 + 1):
        control.slider.value = 10 ** (step / 24)
        seen.append(control.checked())
    decade = preferred_values("E24")
    assert seen == pytest.approx([10**power * each for power in range(4) for each in decade] + [10_000])
    short = NumberControl("resistor", "ohm", 1, 9600, 470, logarithmic=True)
    short.slider.value = 9600
    assert short.checked() == 9600  # though no value of the series


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", 'supply needs 1.5 to 24 V, for example "9"; you gave nothing'),
        ("4,500", 'the comma may be a decimal point or part thousands; type "4.500" or "4500"'),
        ("470 ohm", "supply needs a value in V; you gave '470 ohm'; type for example \"9 V\""),
        ("24.1", "supply needs 1.5 to 24 V in this panel; you gave 24.1 V"),
        ("1 mV", "supply needs 1.5 to 24 V in this panel; you gave 0.001 V"),
    ],
)
def test_what_cannot_be_read_or_is_beyond_the_ends_is_refused_in_a_sentence_and_not_clipped(typed, sentence):
    control = supply()
    control.box.value = typed
    with pytest.raises(SigcalcError) as refusal:
        control.checked()
    assert sentence in str(refusal.value)
    assert (control.box.value, control.slider.value) == (typed, 9)


def test_a_count_is_a_whole_number():
    control = NumberControl("signals", "", 1, 8, 3, step=1)
    assert control.whole == 3
    control.box.value = "2.5"
    with pytest.raises(RangeError, match=r'signals needs a whole number, for example "2"; you gave 2\.5'):
        _ = control.whole


def test_each_change_calls_back_once():
    control, calls = supply(), []
    control.on_change(lambda: calls.append(control.value))
    control.slider.value = 12.0
    control.value = 5
    control.box.value = "6 V"
    assert calls == [12, 5, 6]


def test_a_choice_starts_also_with_a_value_that_counts_as_false_and_a_line_is_read_when_it_is_left():
    assert choice("series", ["E6", "E12"]).value == "E6"
    assert choice("tolerance", [("1 %", 0.01), ("none", 0.0)], 0.0).value == 0.0
    assert not text_line("own drawer", "470, 1k").widget.continuous_update


def test_positions_say_in_words_which_button_is_pressed():
    control = positions("reversing switch", ["A", "<B>"])
    label = control.widget.children[0]
    assert label.value == "reversing switch: <b>A</b>"
    control.value = "<B>"
    assert label.value == "reversing switch: <b>&lt;B&gt;</b>"


@pytest.fixture
def button():
    return Button(description="Save")


def press_in_browser(button):
    button._handle_custom_msg({"event": "click"}, [])


@pytest.mark.parametrize("presses", [1, 2])
def test_a_press_in_the_browser_waits_for_its_echo_and_presses_that_come_back_together_are_one(button, presses):
    heard = []
    button.on_click(lambda _: heard.append(button.waiting))
    for times in (1, 2):
        for _ in range(presses):
            press_in_browser(button)
        assert button.waiting
        button.set_state({"due": button.pressed})
        assert heard == [False] * times


def test_a_program_need_not_wait_and_another_message_is_no_press(button):
    heard = []
    button.on_click(lambda _: heard.append(button.waiting))
    button._handle_custom_msg({"event": "focus"}, [])
    assert not button.waiting
    button.click()
    assert heard == [False]
