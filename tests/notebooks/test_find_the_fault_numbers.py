"""What the prose of "find the fault" says in numbers and of readings is what the library says."""

import re

import pytest

from sigcalc.design.bench.fault import catalogue
from sigcalc.design.bench.predictions import DRAWS, look_alikes, predict
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.caution import all_cautions
from sigcalc.lessons.find_the_fault import FULL, HALF_WAY, LEVELS, quillhaven_signal
from sigcalc.parts.led import leds
from sigcalc.parts.meter import AMPERES, OHMS, VOLTS, meters
from tests.notebooks.lesson_text import lesson_text, open_words, says_in

TEXT, says = lesson_text("find_the_fault"), says_in("find_the_fault")
SIGNAL = quillhaven_signal()


@pytest.fixture(scope="module")
def expected():
    return predict(SIGNAL, meters["hand meter"], pairs=False, printed=True)


def reads(expected, fault, point):
    names = [each.name for each in expected.faults]
    return float(expected.values[point][names.index(fault), 0])


def test_a_break_beyond_the_probes_shows_the_full_supply(expected):
    says("The full supply across the pair means a break beyond the probes")
    for fault in ("red LED open", "break in the mast"):
        assert reads(expected, fault, "pair, red") == pytest.approx(12, rel=1e-3)
        assert abs(reads(expected, fault, "shared resistor, red")) < 0.01


def test_next_to_nothing_has_two_causes_and_the_resistor_tells(expected):
    says("Next to nothing across the pair has two causes")
    for fault, resistor in (("short at the mast hole", 12), ("red LED shorted", 12), ("no supply", 0)):
        assert abs(reads(expected, fault, "pair, red")) < 0.02
        assert reads(expected, fault, "shared resistor, red") == pytest.approx(resistor, abs=0.05)


def test_a_resistor_that_is_not_there_seems_to_read_well(expected):
    says("A resistor that is not there seems to read well")
    sound, away = (reads(expected, fault, "shared resistor, red") for fault in ("nothing wrong", "resistor open"))
    assert away == pytest.approx(sound, rel=0.06)
    says("Only its ohms, with the power off, give it away")
    assert reads(expected, "resistor open", "shared resistor ohms") == float("inf")


def test_points_efforts_levels_and_samples():
    says("For a name you get ten points, six for one that looks the same in all that you read")
    assert (FULL, HALF_WAY) == (10, 6)
    says("A voltage costs an effort of 1, a reading with the power off and a lead lifted 2 or more, a current 5")
    points = [each for each in measuring_points(SIGNAL).values() if each.place != "lamps"]  # behind its sleeves
    assert {each.effort for each in points if each.setting == VOLTS} == {1}
    assert min(each.effort for each in points if each.setting == OHMS) == 2
    assert {each.effort for each in points if each.setting == AMPERES} == {5}
    says("Higher levels allow fewer readings, or hide two faults at once")
    assert {each.faults for each in LEVELS} == {1, 2}
    says("some two thousand samples of its parts")
    assert DRAWS == 2000


def test_what_is_never_told_apart_lies_side_by_side():
    says("They lie side by side on the same two points")
    groups = look_alikes(SIGNAL)
    assert ("red LED shorted", "green LED shorted") in groups
    changes = (each for names in groups for name in names for changes in catalogue()[name].changes for each in changes)
    assert {each["at"] for each in changes} <= {"red lamp", "green lamp"}


def test_the_sum_takes_the_signal_s_own_figures():
    """The drop is the data sheet's, the supply and the resistor the game's; the library agrees to some per cent."""
    says("a constant drop of 1.9 V, as in the data sheet")
    assert leds.figures(SIGNAL.pair.red.name)["forward_voltage"].text == "1.9 V"
    assert (SIGNAL.source.si.voltage, SIGNAL.shared) == (12, 680)


def test_the_page_is_short():
    assert open_words("find_the_fault") <= 900


def test_the_cautions_of_the_library_are_all_there():
    assert {each.topic for each in all_cautions()} >= {"current", "resistance", "bare LED", "eye protection"}
    for words in "in series", "back into the volts socket", "power on", "Lift one lead", "may burst", "eye protection":
        says(words)
    assert re.findall(r"\b\S+ V\b", TEXT) == ["1.9 V"]  # other volts in the prose would need a test of their own
