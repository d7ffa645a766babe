"""Hours by hand, and the table of batteries: the figures are the library's, the arithmetic holds."""

import re

import pytest

from sigcalc.design.power.run_time import in_practice, run_time
from sigcalc.errors import UnitError
from sigcalc.parts.source import batteries
from sigcalc.units import Q
from sigcalc.views.run_sum import battery_table, run_by_hand
from tests.views.power_samples import run


@pytest.fixture(scope="module")
def runs():
    return in_practice()


def test_lamp_and_coil_add_up(runs):
    steps = {each.what: each for each in run_by_hand(runs["relay"]).steps}
    lamp, coil = (Q(steps[what].answer).m_as("mA") for what in ("The lamp", "The relay's coil"))
    assert Q(steps["Together"].answer).m_as("mA") == pytest.approx(lamp + coil, abs=0.1)
    charge, drain = Q(steps["What the battery gives at that drain"].answer), Q(steps["Together"].answer)
    hours = charge.m_as("mAh") / drain.m_as("mA")
    assert Q(steps["The hours"].answer).m_as("h") == pytest.approx(hours, rel=0.05)  # said with two digits
    assert "read between" in steps["What the battery gives at that drain"].how


def test_the_library_s_run_stands_beside_it(runs):
    said = run_by_hand(runs["relay"]).sentence
    assert "the library finds 11 h (4.8 h to 19 h): then the relay no longer pulls in." in said


def test_with_a_hand_switch_there_is_nothing_to_add(runs):
    steps = run_by_hand(runs["hand switch"]).steps
    assert [each.what for each in steps] == ["The lamp", "What the battery gives at that drain", "The hours"]


def test_a_timer_board_counts_all_the_time():
    steps = run_by_hand(run(standby="5 mA")).steps
    assert steps[1].what == "The timer board"
    assert steps[1].answer == "5 mA"


@pytest.mark.parametrize(("current", "said"), [("2 mA", "the least published drain"), ("20 mA", "read between")])
def test_outside_the_published_drains_it_says_so(current, said):
    assert said in run_by_hand(run(current=current)).steps[-2].how
    assert "the greatest published drain" in run_by_hand(run("3 V coin cell", current="10 mA")).steps[-2].how


def test_a_steady_current_has_nothing_to_add_up():
    with pytest.raises(UnitError, match="nothing to add up"):
        run_by_hand(run_time(batteries["9 V alkaline"], "20 mA", "6 V"))


def test_the_table_has_a_row_for_every_battery(runs):
    table = battery_table(batteries.values(), runs["relay"].load)
    rows = {each.what: each for each in table.steps}
    assert list(rows) == list(batteries)
    assert rows["3 V coin cell"].answer == "does not work"
    assert rows["3 V coin cell"].how.startswith("the relay needs 6.75 V")
    assert rows["3 V coin cell"].how.endswith("it never works")
    assert rows["9 V alkaline"].answer == "11 h (4.8 h to 19 h)"
    assert all(re.search(r"\d", row.answer) or row.answer == "does not work" for row in rows.values())


def test_only_batteries_stand_in_the_table(runs):
    with pytest.raises(UnitError, match="battery needs a Battery"):
        battery_table(["9 V alkaline"], runs["relay"].load)
