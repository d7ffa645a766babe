"""The exercises of all lessons: each against a sum of its own or another program, and every slip told apart."""

import inspect
import itertools
import math
import pkgutil
import re
from dataclasses import replace
from importlib import import_module

import eseries
import nbformat
import numpy as np
import pytest

from sigcalc import lessons
from sigcalc.design.board.board import chain_board
from sigcalc.design.board.fuse import fuse_action
from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.design.pair.wiring import show
from sigcalc.design.power.load import Load
from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.lessons import Question, why_a_resistor
from sigcalc.lessons.choice import LETTERS
from sigcalc.panels.resistor_or_constant_current import FIGURES, DriveChoice
from sigcalc.panels.why_a_resistor import BARE, SOURCES, ALittleMore, WhyAResistor
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.reed import reeds
from sigcalc.parts.source import adapters, batteries
from sigcalc.units import Q
from sigcalc.views.exercise import drawn
from tests.project.checkout import ROOT
from tests.views.svg import words

_MODULES = [import_module(f"sigcalc.lessons.{each.name}") for each in pkgutil.iter_modules(lessons.__path__)]


def _made(kind):
    """The functions of all lessons that make one of a kind, by name."""
    return {
        name: made
        for module in _MODULES
        for name, made in vars(module).items()
        if getattr(made, "__annotations__", {}).get("return") == kind and made.__module__ == module.__name__
    }


QUESTIONS, CHOICES, PREDICTIONS = map(_made, ("Question", "Choice", "Prediction"))
EXERCISES = {name: made() for name, made in QUESTIONS.items()}
SEEDS = range(1, 13)
RED = "low-current red 3 mm"


def _seeded(made):
    return [made(seed) for seed in SEEDS] if inspect.signature(made).parameters else []


def _ways_to_type(question):
    """The answer as people type it: with its unit and without, with a decimal comma, as a sum."""
    si = question.answer
    boxed = float(f"{si if question.kind.bare else Q(si, question.kind.unit).m_as(question.unit):.4g}")
    alone = [f"{boxed}", f"({3 * boxed:.6g} - {boxed:.6g})/2", f"{2 * boxed:.6g}/2", f"{2 * si!r}/2"]
    commas = [each.replace(".", ",") for each in alone[:1] if not re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", each)]
    both = [f"{each} {question.unit}" for each in (*alone[:3], *commas)]
    return [question.said, *alone, *commas, *both]


@pytest.mark.parametrize("exercise", EXERCISES)
def test_the_answer_counts_as_right_however_it_is_typed_and_each_slip_has_its_own_reason(exercise):
    for question in (EXERCISES[exercise], *_seeded(QUESTIONS[exercise])):
        assert 0 < question.answer < math.inf
        for typed in _ways_to_type(question):
            assert question.check(typed).right, (question.text, typed)
        for value, reason in question.mistakes.items():
            verdict = question.check(f"{float(value)!r} {question.kind.unit}")
            assert (verdict.right, verdict.reason) == (False, reason), question.text
        for (one, reason), (other, another) in itertools.combinations(question.mistakes.items(), 2):
            assert abs(one - other) > question.close * abs(other)
            assert reason != another
        assert question.said in question.working
        assert question.said not in question.hint
        # the dark lamp has the whole supply across it, and a rating is one of those that are sold
        assert question.said not in question.text or exercise in ("dark_lamp_voltage", "rating_to_ask_for")


@pytest.mark.parametrize("exercise", EXERCISES)
def test_a_newcomer_meets_no_number_of_more_than_three_digits_nor_a_stray_one(exercise):
    for question in (EXERCISES[exercise], *_seeded(QUESTIONS[exercise])):
        for text in (question.text, question.hint, *question.mistakes.values()):
            for number in re.findall(r"\d+(?:\.\d+)?", text):
                assert len(number.replace(".", "").strip("0")) <= 3, text
            assert not re.search(r"\b(nan|inf|None)\b|\d e?[-−]\d|\d [np][AV]\b|\d µV|\d mΩ", text), text
        assert not re.search(r"\b(nan|inf|None)\b|\de[-+]\d", question.working), question.working


@pytest.mark.parametrize("choice", CHOICES)
def test_of_the_options_one_is_right_and_each_has_its_reason_and_its_picture(choice):
    for place, task in enumerate((CHOICES[choice](), *_seeded(CHOICES[choice]))):
        assert sum(each.right for each in task.options) == 1
        assert 3 <= len(task.options) <= len(LETTERS)
        assert (
            len({each.says for each in task.options})
            == len({each.reason for each in task.options})
            == len(task.options)
        )
        shown = [each.shows for each in (task, *task.options) if each.shows is not None]
        if place % 4 == 0:  # pictures take long, and other numbers are drawn the same way
            assert all(drawn(each).svg.startswith("<svg") for each in shown)


@pytest.mark.parametrize("prediction", PREDICTIONS)
def test_each_guess_has_its_own_answer_which_follows_you_said(prediction):
    asked = PREDICTIONS[prediction]()
    assert asked.text.endswith("?")
    assert len({*asked.options.values()}) == len(asked.options) >= 2
    for said, answer in asked.options.items():
        assert answer.endswith((".", ")"))
        assert not said.endswith(".")
        assert asked.told(said) == f"You said “{said}”, and {answer}"
        assert len(answer) < 600
    assert asked.seen.endswith(".")
    assert asked.seen[0].isupper()


BELIEFS = {
    "the LED takes only what it needs": "why_a_resistor",
    "nine volts go through the LED": "why_a_resistor",
    "the resistor must be on the plus side": "two_wires_two_colours",
    "a bigger resistor burns more": "which_resistor",
    "mAh divided by mA is hours, always": "battery_or_adapter",
    "a 20 mA driver gives 20 mA from a flat battery": "resistor_or_constant_current",
    "any two-pole switch reverses": "two_wires_two_colours",
}


def test_each_of_the_seven_beliefs_is_met_in_one_lesson_by_name():
    met = [(made().belief, made.__module__.rpartition(".")[2]) for made in PREDICTIONS.values() if made().belief]
    assert set(met) >= set(BELIEFS.items())
    assert len({belief for belief, _ in met}) == len(met)


_DRAIN = 10e-3 + 9 / 162  # coil of 162 ohm: Omron G5V-2 data sheet
_DRAINS, (_, _CHARGES, _) = batteries["9 V alkaline"].capacity_band()
_CHARGE = np.exp(np.interp(np.log(_DRAIN), np.log(_DRAINS), np.log(_CHARGES)))
_JOINT = (12 - 1.9) / (680 + 120)  # Broadcom's data sheet: 1.9 V
ANSWERS = [
    ("current_with_resistor", (12 - 1.9) / 680),
    ("coin_cell", (3.1 - 1.9) / 25),
    ("across_the_resistor", 9 - 2.2),
    ("two_from_the_drawer", 470 + 220),
    ("planned_current", (9 - 1.9) / 1500),
    ("value_to_buy", eseries.find_greater_than_or_equal(eseries.E12, next(iter(EXERCISES["value_to_buy"].mistakes)))),
    ("bands_to_read", 1500),  # IEC 60062: brown 1, green 5, red two noughts, gold 5 %
    ("rating_to_ask_for", 0.5),  # twice (12 V - 1.9 V)² / 680 ohm is 0.3 W
    # Vishay 83006 rev 2.2: 2.4 V across green; red 13 mcd, green 4 mcd at 10 mA
    ("reverse_voltage", 2.4 + 470 * (12 - 2.4) / (680 + 470)),
    ("even_current", 10e-3 * 4 / 13),
    ("cross_reading", 3),
    ("sagged_current", (6.5 - 1.9) / 820),
    ("least_supply", 1.9 + 1.9 + 1.5),
    ("regulator_resistor", eseries.find_greater_than_or_equal(eseries.E24, 1.25 / 15e-3)),
    ("hours_with_relay", _CHARGE / _DRAIN),
    ("unregulated_voltage", 13.3 - 4.3 * 100 / 500),  # a straight line from 13.3 V at nothing to 9 V at 500 mA
    ("evening_that_pays", 18 / (6 / 4)),
    ("longest_hold", 172e3 * 47e-6 * math.log(3)),  # TI SNAS548B p. 7: the printed 1.1 R C stands for the exact ln 3
    ("needed_hold", (1.2 - 0.1 + 0.7) / 0.25),
    ("closed_time", 0.018 / (30 * 0.44704 / 48)),
    ("signals_on_the_adapter", 0.8 // (0.010 + 0.008 + 12 / 288)),  # Omron G5V-2 data sheet, 12 V coil: 288 ohm
    ("across_a_break", 12 / 1_000_680),  # 12 V, 680 ohm, and the 1 megohm of the cheapest meters
    ("cold_joint", 120),
    ("wrong_band", 6800),
    ("battery_resistor", choose_resistor("9.5 V", leds[RED], "3 mA").si.resistance),
]


@pytest.mark.parametrize(("exercise", "answer"), ANSWERS)
def test_the_answer_is_that_of_a_sum_of_its_own_or_of_another_program(exercise, answer):
    assert EXERCISES[exercise].answer == pytest.approx(answer, rel=1e-6)


def test_the_voltage_lost_along_the_chain():
    # 28 AWG, 213 ohm a kilometre (AWG table of the check values), there and back, 3 m a section
    lost = EXERCISES["lost_on_the_way"].answer
    assert lost == pytest.approx(0.050 * 3 * 2 * 0.213 * (4 + 3 + 2 + 1), rel=3e-3)


RIGHT_OPTIONS = [
    ("hottest_resistor", "9.5 V and 470 Ω"),  # 7.6² / 470 W, 10.2² / 1000 W, 3.1² / 150 W
    ("joined_wrongly", "they are side by side, and should be one after the other"),
    ("led_turned_round", "the LED is the wrong way round"),
    ("most_current", "9 V and 470 Ω"),  # 7.1/470, 10.1/1000, 3.1/220
    ("half_the_resistor", "twice the current, the same voltage"),
    ("off_its_bands", "it is sound: parts differ by as much"),  # 791 is 3.5 % below 820
    ("soldered_wrongly", "both LEDs point the same way"),
    ("more_than_planned", "the adapter gives more than is printed on it"),
    ("mistake_at_the_relay", "one jumper is straight"),
    ("which_one_is_it", "yellow, violet, red, gold"),  # IEC 60062: 4, 7, two zeros
    ("which_wiring_reverses", "up 1 to down 2, up 2 to down 1"),
    ("mistake_in_the_cross", "one jumper of the cross is missing"),
    ("which_one_to_build", "2.2 kΩ, shared"),
    ("reading_in_brackets", "Nothing is wrong: no two parts are quite alike"),
    ("mistake_in_the_signal", "each branch has a resistor, and the wires have none"),
    ("way_to_lay_it", "lengthwise"),
    ("seen_first", "a joint of the red LED is open"),
    ("mistake_behind_the_switch", "the switch only opens and closes: it has no second end to put the wires on"),
]


@pytest.mark.parametrize(("choice", "says"), RIGHT_OPTIONS)
def test_the_right_option_is_the_one_that_a_person_would_name(choice, says):
    assert [each.says for each in CHOICES[choice]().options if each.right] == [says]


def test_a_picture_of_what_is_wrong_does_not_say_what():
    for task in (CHOICES["led_turned_round"](), *_seeded(CHOICES["joined_wrongly"])):
        picture = drawn(task.shows)
        said = " ".join([*words(picture), picture.sentence]).lower()
        assert not re.search("reverse|dark|parallel|series|side by side", said), said
        assert picture.sentence in picture.svg.replace("&#x27;", "'")


def test_two_resistors_joined_wrongly_make_what_is_said_and_spare_the_led():
    for task in _seeded(CHOICES["joined_wrongly"]):
        joined, (right,) = task.shows, [each for each in task.options if each.right]
        one, other = joined.first, joined.second
        built = 1 / (1 / one + 1 / other) if joined.parallel else one + other
        made, flows = re.search(r"they make ([\d.]+ k?Ω), and ([\d.]+ mA) flows", right.reason).groups()
        assert Q(made).m_as("ohm") == pytest.approx(built, rel=5e-3)
        assert Q(flows).m_as("mA") == pytest.approx((9 - 1.9) / built * 1e3, rel=5e-3)
        assert Q(flows) < leds[why_a_resistor.RED].max_current


@pytest.mark.parametrize("seed", range(40))
def test_no_question_of_the_first_lessons_overloads_its_led(seed):
    numbers = QUESTIONS["current_with_resistor"](seed)
    assert numbers.answer < leds[why_a_resistor.RED].si.max_current
    assert "470 Ω" not in numbers.text, "the lesson works out 470 ohm itself"
    ohms, volts = re.match(r"A resistor of (\d+) Ω.* a (\d+) V", QUESTIONS["rating_to_ask_for"](seed).text).groups()
    assert (float(volts) - 1.9) / float(ohms) < leds[why_a_resistor.RED].si.max_current


@pytest.mark.parametrize(
    ("exercise", "typed", "said"),
    [
        ("two_from_the_drawer", "150 ohm", "side by side"),
        ("across_the_resistor", "9 V", "shared out"),
        ("current_with_resistor", "17.6 mA", "Not the whole voltage is across the resistor"),
        ("times_as_much", "36 times", "Right"),
        ("times_as_much", "8.3 times", "the first step alone"),
        ("times_as_much", "12.6 times", "You added"),
        ("rating_to_ask_for", "1/2 W", "Right"),
        ("rating_to_ask_for", "1/4 W", "not 2 times"),
        ("reverse_voltage", "2.4 V", "without the extra resistor"),
        ("reverse_voltage", "6.3 V", "Right"),
        ("even_current", "32.5 mA", "less, not more"),
        ("cross_reading", "3 terminals", "Right"),
        ("sagged_current", "6.25 mA", "in step with the supply"),
        ("regulator_resistor", "83.3 ohm", "nobody sells it"),
        ("unregulated_voltage", "9 V", "full printed current only"),
        ("evening_that_pays", "12", "Right"),
        ("evening_that_pays", "3", "how many batteries"),
        ("longest_hold", "8.08 s", "one time constant"),
        ("longest_hold", f"{1.1 * 172e3 * 47e-6} s", "Right"),
        ("needed_hold", "8 s", "take it off"),
        ("closed_time", "1.34 ms", "48 times slower"),
        ("lost_on_the_way", "255 mV", "You counted one signal's current everywhere"),
        ("lost_on_the_way", "639 mV", "Right"),
        ("signals_on_the_adapter", "13", "Right"),
        ("signals_on_the_adapter", "16", "no margin"),
        ("farthest_short", "84 m", "At that current it does not act"),
        ("farthest_short", "40 m", "You rounded up"),
        ("farthest_short", "39", "Right"),
        ("farthest_short", "39.3 m", "Right"),
        ("across_a_break", "0 A", "bridges the gap"),
        ("across_a_break", "0,012", "Right"),
        ("across_a_break", "12", "12 mA is a thousand times too large"),
        ("cold_joint", f"{1.9 / _JOINT + 120} ohm", "counts the lamp in"),
        ("wrong_band", "8.08 kohm", "whole supply"),
    ],
)
def test_each_slip_has_its_reason(exercise, typed, said):
    assert said in EXERCISES[exercise].check(typed).reason


def test_the_step_of_the_curve_follows_from_the_junction_law():
    led, volts = leds[why_a_resistor.RED], 1.65
    saturation, emission, series = led.model.triple()
    current = 1e-3
    for _ in range(200):  # the same loop by plain fixed-point steps of the voltage law
        current = 0.5 * (current + saturation * math.expm1((volts + 0.2 - current * series) / emission))
    assert EXERCISES["times_as_much"].answer == pytest.approx(current / led.model.current_si(volts), rel=1e-6)


def test_the_closed_stretch_is_eighteen_millimetres():
    stretches = closures("8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle, "5 mm", "upright")
    assert max(end - start for start, end in stretches).m_as("mm") == pytest.approx(18, abs=0.5)


def test_just_before_the_farthest_short_the_fuse_acts_and_just_beyond_it_may_not():
    load = Load(ResistorDrive("1 kohm"), leds["bright red 3 mm"])
    outcomes = []
    for more in (0, 1):
        length = Q(EXERCISES["farthest_short"].answer + more, "m")
        board = chain_board("pair", adapters["12 V regulated"], load, 1, 28, "1 m", length)
        outcomes.append(fuse_action(replace(board, fuse=fuses["300 mA resettable"]), "post 1").outcome)
    assert outcomes == ["acts slowly", "may never act"]


@pytest.mark.parametrize("seed", range(9))
def test_the_farthest_short_may_be_said_in_whole_metres_or_with_a_decimal(seed):
    question = QUESTIONS["farthest_short"](seed)
    exact = re.search(r"([\d.]+ m), so", question.working)[1]
    assert question.check(exact).right
    assert question.check(question.said).right
    assert not question.check(f"{question.answer + 1} m").right


@pytest.mark.parametrize("seed", range(9))
def test_by_the_printed_voltages_one_driver_has_less_than_it_needs(seed):
    for each in CHOICES["driver_let_go"](seed).options:
        left = Q(re.search(r"leave ([\d.]+ \w+) across", each.reason)[1]).m_as("V")
        assert left < 1.45 if each.right else left > 1.55


def test_the_joint_s_three_readings_are_those_of_its_current():
    for volts in (680 * _JOINT, 1.9 + 120 * _JOINT, 1.9):
        assert f"{volts:.3g} V" in EXERCISES["cold_joint"].text


def test_what_the_panels_of_why_a_resistor_show_is_right():
    panel = ALittleMore()
    assert panel["LED"].value is leds[why_a_resistor.RED]
    read = []
    for panel["voltage"].value in (1.65, 1.85):
        read.append(Q(re.search(r"LED is ([\d.]+ \S+),", panel.picture.sentence)[1]))
        assert f"{EXERCISES['times_as_much'].answer:.3g}" not in panel.picture.sentence
    assert EXERCISES["times_as_much"].check(f"{(read[1] / read[0]).m_as(''):g}").right
    panel = WhyAResistor()
    panel["source"].value, panel["resistor"].value = SOURCES["12 V adapter"], 680
    (shown,) = re.findall(r"LED is ([\d.]+ mA)", panel.picture.sentence)
    assert EXERCISES["current_with_resistor"].check(shown).right
    panel["source"].value, panel[BARE].value = SOURCES["3 V coin cell"], True
    (shown,) = re.findall(r"LED is ([\d.]+ mA)", panel.picture.sentence)
    assert f"the panel shows {shown}" in EXERCISES["coin_cell"].check(shown).reason
    assert EXERCISES["coin_cell"].check(shown.removesuffix(" mA")).right


def test_what_the_panel_of_resistor_or_constant_current_shows_is_right():
    panel = DriveChoice()
    panel["wanted current"].value, panel["it has sagged by"].value = 8.8, 2.5
    assert "820 Ω" in panel.view.value
    (shown,) = re.findall(r"light \(([\d.]+ mA)\) and", panel.picture.sentence)
    assert EXERCISES["sagged_current"].check(shown).right
    panel["in series"].value, panel["view"].value = 2, FIGURES
    for current in (5, 8.66, 10, 15, 20):
        panel["wanted current"].value = current
        (shown,) = re.findall(r"above ([\d.]+ V)", panel.view.value)
        assert EXERCISES["least_supply"].check(shown).right


def _kind(task):
    """Which of the four kinds of exercise it is; a choice is the mistake in a wiring where one is drawn above it."""
    if isinstance(task, Question):
        return "number"
    if task.shows is not None:
        return "mistake"
    return "sentence" if all(each.shows is None for each in task.options) else "picture"


@pytest.mark.parametrize("lesson", [path.name for path in sorted((ROOT / "notebooks").glob("?_*.ipynb"))])
def test_every_lesson_has_at_least_five_exercises_and_all_four_kinds(lesson):
    cells = nbformat.read(ROOT / "notebooks" / lesson, as_version=4).cells
    source = "\n".join(cell.source for cell in cells if cell.cell_type == "code")
    asked = re.findall(r"\bExercise\((\w+)\)", source)
    assert len(asked) == len({*asked}) >= 5
    tasks = [(QUESTIONS | CHOICES)[name]() for name in asked]
    assert {_kind(task) for task in tasks} == {"number", "sentence", "picture", "mistake"}


def test_what_is_drawn_before_it_is_switched_on_shows_no_light_and_no_current():
    for option in CHOICES["most_current"]().options:
        picture = drawn(option.shows)
        said = " ".join([*words(picture), picture.sentence])
        assert not re.search(r"\bmA\b|\blit\b|bright with", said), said
        assert picture.svg.count("animate") == 0


@pytest.mark.parametrize("seed", range(9))
def test_the_most_current_is_not_where_the_drop_is_forgotten_nor_where_the_supply_is_highest(seed):
    options = {tuple(map(Q, each.says.split(" and "))): each.right for each in CHOICES["most_current"](seed).options}
    (right,) = (each for each, is_right in options.items() if is_right)
    assert max(options, key=lambda each: (each[0] - Q("1.9 V")) / each[1]) == right
    assert right not in (max(options), max(options, key=lambda each: each[0] / each[1]))


@pytest.mark.parametrize("seed", range(9))
def test_a_resistor_is_sound_within_the_twentieth_that_gold_allows(seed):
    task = CHOICES["off_its_bands"](seed)
    printed = Q(re.search(r"bands say (.*?) ±", task.working)[1])
    read = Q(re.search(r"meter reads (\S+ \S+)\.", task.text)[1])
    (right,) = (each for each in task.options if each.right)
    assert right.says.startswith("it is sound") == (abs(read - printed) < printed / 20)


@pytest.mark.parametrize("seed", range(9))
def test_the_picture_of_too_much_current_bears_out_its_cause(seed):
    task = CHOICES["more_than_planned"](seed)
    planned, wanted = (Q(re.search(pattern, task.text)[1]) for pattern in (r"resistor of (\S+ k?Ω)", r"for (\S+ mA)"))
    (right,) = (each.says for each in task.options if each.right)
    supply = task.shows.led_voltage + task.shows.drive_voltage
    assert task.shows.current > 1.2 * wanted
    assert ("adapter" in right) == (supply > Q("12 V")) == (task.shows.drive.resistance == planned)


def test_a_relay_s_contacts_are_wired_as_is_said_and_the_picture_does_not_say_it():
    tasks = [CHOICES["mistake_at_the_relay"](seed) for seed in range(9)]
    for task in tasks:
        (right,) = (each for each in task.options if each.right)
        for coil, word in (("coil off", "at rest"), ("coil on", "pulled in")):
            wiring = task.shows.wiring
            shown = show(wiring, wiring.closed([coil]), coil).lamps[0]
            assert f"{word} {shown}" in right.reason
        picture = drawn(task.shows)
        assert not re.search("straight|missing|exchanged|jumper", " ".join([*words(picture), picture.sentence]))
    assert len({right.says for task in tasks for right in task.options if right.right}) >= 3
