"""What is said about a run: how sure, its end, light, charge, chatter, data, memory; twelve hours and thirty."""

import dataclasses

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.battery_verdict import findings, practice
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import in_practice, run_time
from sigcalc.errors import UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, regulators
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import batteries

RED, GREEN, BLOCK = leds["red alingap 3 mm"], leds["green gap 3 mm"], batteries["9 V alkaline"]
DRIVER, RELAY = ConstantCurrentDrive("20 mA", "1.5 V", 0.1), relays["9 V two-pole sensitive"]

HELD = Load(ResistorDrive("1.8 kohm", 0.05), RED, relay=RELAY)


def said(run):
    return {each.topic: each for each in findings(run)}


def test_a_relay_held_all_the_time():
    found = said(run_time(BLOCK, Load(DRIVER, RED, relay=RELAY), 0.5))
    assert found["9 V alkaline battery"].grade == FINE
    assert "11 h (4.8 h to 19 h)" in found["9 V alkaline battery"].reason
    assert "pulls in" in found["end of the run"].reason
    assert found["what uses the charge"].grade == LOOK
    assert "latching relay" in found["what uses the charge"].remedy
    assert "23 h in place of 11 h" in found["what uses the charge"].remedy
    assert "buzz" in found["chatter"].reason
    assert "latching relay" in found["chatter"].remedy


def test_a_latching_relay_is_not_advised_again():
    relay = dataclasses.replace(RELAY, latching=True, must_release=None)
    found = said(run_time(BLOCK, Load(DRIVER, RED, relay=relay), 0.5))
    assert "what uses the charge" not in found
    assert "latching" not in found["chatter"].remedy


def test_a_timer_that_starts_anew():
    found = said(run_time(BLOCK, Load(DRIVER, RED, relay=RELAY, timer_voltage="7.5 V"), 0.5))
    assert "dips below" in found["end of the run"].reason


def test_standby_that_uses_most():
    found = said(run_time(BLOCK, Load(ResistorDrive("2.2 kohm"), RED, standby="8 mA"), 0.5))
    assert "adapter" in found["what uses the charge"].remedy


def test_how_the_light_goes():
    assert "fades" in said(run_time(BLOCK, Load(ResistorDrive("330 ohm"), RED), 0.5))["light"].reason
    assert "collapses" in said(run_time(BLOCK, Load(DRIVER, RED), 0.5))["light"].reason
    late = said(run_time(BLOCK, Load(ConstantCurrentDrive("20 mA", "3.75 V"), GREEN), 0.5))
    assert "holds its current for" in late["drop-out"].reason
    early = said(run_time(batteries["6 x AA NiMH"], Load(ConstantCurrentDrive("20 mA", "5 V"), [GREEN, RED]), 0.5))
    assert early["drop-out"].grade == LOOK
    assert "Even fresh" in early["drop-out"].reason
    assert "drop-out" not in said(run_time(BLOCK, Load(DRIVER, RED), "6 V"))


def test_a_regulator_below_its_least_load():
    # LM317L data sheet (Motorola): a lamp of 5 mA is below the 10 mA that the LM317 may need
    found = said(run_time(BLOCK, Load(regulators["lm317"].set_by("250 ohm"), RED), 0.5))
    assert "any sample" in found["minimum load"].reason
    assert "minimum load" not in said(run_time(BLOCK, Load(regulators["lm317"].set_by("62 ohm"), RED), 0.5))


def test_outside_the_published_drains():
    below = said(run_time(BLOCK, "2 mA", "5 V"))["outside the data"]
    above = said(run_time(batteries["3 V coin cell"], "10 mA", "2 V"))["outside the data"]
    assert "least drain" in below.reason
    assert "carried on" in above.reason
    assert above.remedy
    assert "outside the data" not in said(run_time(BLOCK, "30 mA", "5 V"))


def test_no_single_exponent_is_said_with_its_figures():
    reason = said(run_time(batteries["6 x AA alkaline"], "30 mA", "5 V"))["capacity against drain"].reason
    assert "no single one holds" in reason
    assert "From 25 mA to 50 mA" in reason


def test_figures_from_memory_are_told():
    assert said(run_time(BLOCK, "20 mA", "5 V"))["figures from memory"].grade == LOOK


def test_a_weakest_battery_that_does_not_start():
    found = said(run_time(batteries["9 V zinc-carbon"], "60 mA", "5.4 V"))["9 V zinc-carbon battery"]
    assert found.grade == STOP
    assert "does not even start" in found.reason


@pytest.mark.parametrize(("evening", "grade"), [("2 h", FINE), ("5 h", LOOK), ("20 h", STOP)])
def test_the_weakest_battery_is_held_against_one_evening(evening, grade):
    run = run_time(batteries["9 V zinc-carbon"], HELD, 0.5)
    assert 2 < run.hours_min.m_as("h") < 5 < run.hours.m_as("h") < 20
    band = findings(run, evening)[0]
    assert band.grade == grade
    assert ("one evening of 5 h" in band.reason) == (evening == "5 h")


def test_what_ends_the_run_is_named_where_the_relay_ends_it_before():
    run = run_time(BLOCK, HELD, 0.5)
    assert run.curve.light[-1] > 0.6
    band = findings(run)[0]
    assert "until the relay no longer pulls in, with 6" in band.reason
    assert "50 %" not in band.reason


def test_twelve_hours_and_thirty_say_their_assumptions():
    # common practice, no source
    twelve, thirty = practice(in_practice())
    for word in ("fresh 9 V alkaline block", "20 mA", "lit all the time", "held all the time", "6.75 V", "11 h"):
        assert word in twelve.reason
    assert "common practice, no source" in twelve.reason.lower()
    for word in ("hand switch", "29 h", "latching relay", "23 h"):
        assert word in thirty.reason


def test_anything_else_is_refused():
    with pytest.raises(UnitError, match="run_time"):
        findings("12 h")
