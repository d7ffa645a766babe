"""Run time: hand sums, an ODE solver with its own circuit, ends, phases, properties, findings, and what is refused."""

import dataclasses
import re
from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp, trapezoid
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import EMPTY, REACHED, RELAY, TIMER, run_time
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, regulators
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import batteries
from sigcalc.units import Q
from tests.refusals import refused

BLOCK, PACK = batteries["9 V alkaline"], batteries["6 x AA alkaline"]
RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
PAIR, RELAY_9 = TwoLeadPair(RED, GREEN), relays["9 V two-pole sensitive"]
LATCHING = dataclasses.replace(RELAY_9, latching=True, must_release=None)
RESISTOR, DRIVER = ResistorDrive("330 ohm", 0.05), ConstantCurrentDrive("20 mA", "1.5 V", 0.1)
LAMP = Load(RESISTOR, RED)


def hours(run):
    return run.hours.m_as("h")


def test_an_ode_solver_with_its_own_circuit_agrees():
    """Battery, 330 ohm, a red LED: current by a root finder, dq/dt = I by scipy's solve_ivp, to half the light."""
    at = BLOCK.discharge.si
    rest = PchipInterpolator(at.used, at.rest_voltage)
    ohms = PchipInterpolator(at.used, BLOCK.si.internal_resistance * BLOCK.discharge.resistance_growth)
    drains, (_, charge, _) = BLOCK.capacity_band()
    saturation, emission, series = RED.model.triple()

    def current(used):
        volts, way = rest(used), ohms(used) + 330 + series
        return brentq(lambda amps: volts - amps * way - emission * np.log1p(amps / saturation), 0, 1, xtol=1e-15)

    def pace(_, state):
        amperes = current(min(state[0], 1.0))
        holds = np.exp(np.interp(np.log(amperes), np.log(drains), np.log(charge)))
        return [amperes / holds, amperes]

    start = current(0.0)

    def half(_, state):
        return current(min(state[0], 1.0)) - start / 2

    half.terminal = True
    solved = solve_ivp(pace, (0, 1e6), [0.0, 0.0], events=half, rtol=1e-7, atol=1e-9, method="LSODA")
    run = run_time(BLOCK, LAMP, 0.5)
    assert run.ended_by == REACHED
    assert (run.si.hours, run.used.m_as("A*s")) == pytest.approx((solved.t[-1], solved.y[1, -1]), rel=5e-4)


def test_a_load_without_a_junction_by_hand():
    """Constant drop of 2 V and a driver: 20 mA to the end, so capacity over current."""
    plain = Led("plain", "red", ConstantDrop("2 V"), "30 mA")
    run = run_time(PACK, Load(ConstantCurrentDrive("25 mA", "1 V"), plain), "4.8 V")
    assert hours(run) == pytest.approx(hours(run_time(PACK, "25 mA", "4.8 V")), rel=1e-9)
    assert hours(run) == pytest.approx(run.used.m_as("mAh") / 25, rel=1e-6)


def test_the_curve_is_the_run():
    run = run_time(BLOCK, Load(RESISTOR, RED, standby="3 mA"), 0.5)
    curve, si = run.curve, run.curve.si
    assert repr(run) == "RunTime: 9 V alkaline battery, 27 h (19 h to 39 h), until 50 % of the starting light is left"
    assert f"{run.hours.units:~}, {curve.time.units:~}" == "h, h"
    assert si.time[[0, -1]] == pytest.approx([0, run.si.hours])
    assert (np.diff(si.time) > 0).all()
    assert (curve.light[-1], si.current[-1] / si.current[0]) == pytest.approx((0.5, 0.5), rel=1e-6)
    assert si.drain == pytest.approx(si.current + 0.003)
    assert trapezoid(si.drain, si.time) / 3600 == pytest.approx(run.si.used, rel=1e-3)


def test_charge_and_energy_balance():
    """What the battery gives is what lamp, standby and coil take; its loss inside is the rest of its voltage."""
    load = Load(RESISTOR, RED, standby="3 mA", relay=relays["6 V two-pole sensitive"])
    run = run_time(BLOCK, load, 0.5)
    si, curve = run.si, run.curve.si
    assert si.lamp_charge + si.standby_charge + si.coil_charge == pytest.approx(si.used, rel=1e-9)
    assert si.coil_charge == pytest.approx(trapezoid(curve.voltage / 240, curve.time) / 3600, rel=2e-3)  # Ohm's law
    assert si.standby_charge == pytest.approx(0.003 * curve.time[-1] / 3600, rel=1e-9)
    rest = np.interp(run.curve.used, BLOCK.discharge.si.used, BLOCK.discharge.si.rest_voltage)
    growth = np.interp(run.curve.used, BLOCK.discharge.si.used, BLOCK.discharge.resistance_growth)
    heat = curve.drain**2 * BLOCK.si.internal_resistance * growth
    assert rest * curve.drain == pytest.approx(curve.voltage * curve.drain + heat, rel=1e-4)


def test_a_resistor_fades_and_a_driver_holds():
    # behind a driver that needs 3.75 V the green lamp drops out before the battery is empty
    loads = Load(RESISTOR, GREEN), Load(ConstantCurrentDrive("20 mA", "3.75 V"), GREEN)
    faded, held = (run_time(BLOCK, each, 0.4).curve for each in loads)
    middle = [np.interp(0.5, each.si.time / each.si.time[-1], each.light) for each in (faded, held)]
    assert middle[0] < 0.85
    assert middle[1] == pytest.approx(1)
    assert (np.diff(faded.light) <= 1e-12).all()


def test_ends_and_when_the_light_is_half():
    by_light = run_time(BLOCK, LAMP, 0.5)
    last = by_light.curve.si
    for until, rel in (("50 %", 1e-12), (Q(last.current[0] / 2, "A"), 1e-9), (Q(last.voltage[-1], "V"), 1e-6)):
        assert run_time(BLOCK, LAMP, until).si.hours == pytest.approx(by_light.si.hours, rel=rel)
    never = run_time(BLOCK, Load(DRIVER, RED), 0.5)
    assert (never.ended_by, never.ends[REACHED]) == (EMPTY, None)
    assert never.ends[EMPTY].m_as("h") == pytest.approx(hours(never))
    band = [each.m_as("h") for each in (by_light.hours_min, by_light.hours, by_light.hours_max)]
    assert by_light.when_light(0.5).m_as("h") == pytest.approx(band, rel=1e-9)
    assert np.isinf(never.when_light(0.5).m_as("h")[1])


def test_relay_and_timer_end_a_run():
    held = Load(DRIVER, RED, relay=RELAY_9)
    run, timer = (run_time(BLOCK, each, 0.5) for each in (held, dataclasses.replace(held, timer_voltage="7.5 V")))
    assert (run.ended_by, timer.ended_by) == (RELAY, TIMER)
    assert [each.curve.si.voltage[-1] for each in (run, timer)] == pytest.approx([6.75, 7.5], abs=1e-6)
    assert run.chatter_to > run.hours > timer.hours
    assert run_time(BLOCK, Load(DRIVER, RED, relay=LATCHING), 0.5).si.hours == pytest.approx(run.latching.m_as("s"))
    assert run.latching > run.hours


def test_what_the_timer_keeps_ends_the_run_earlier_and_spares_the_coil():
    """A 9 V relay pulls in at 6.75 V; with 0.7 V for what feeds it the battery has to hold 7.45 V."""
    bare = Load(RESISTOR, RED, relay=RELAY_9)
    certain = dataclasses.replace(bare, coil_drop="0.7 V")
    alone, sure, run = (
        run_time(BLOCK, each, "1 V")
        for each in (bare, certain, dataclasses.replace(certain, coil_drop_min="0.5 V", coil_drop_max="0.9 V"))
    )
    assert [each.curve.si.voltage[-1] for each in (alone, run)] == pytest.approx([6.75, 7.45], abs=1e-6)
    curve, ohms = run.curve.si, RELAY_9.si.coil_resistance
    assert curve.drain - curve.current == pytest.approx((curve.voltage - 0.7) / ohms, rel=1e-9)  # Ohm's law
    assert run.hours_min < sure.hours_min < run.hours < sure.hours_max < run.hours_max


def test_what_lengthens_and_shortens_a_run():
    whole, half = (run_time(BLOCK, Load(RESISTOR, RED, duty=each), 0.5).si for each in (1.0, 0.5))
    assert (half.hours, half.used) == pytest.approx((2 * whole.hours, whole.used), rel=1e-9)
    loads = [Load(RESISTOR, PAIR, +1), Load(RESISTOR, PAIR, red_share=0.5), Load(RESISTOR, PAIR, -1)]
    loads += [Load(DRIVER, RED), Load(DRIVER, RED, standby="5 mA")]
    loads += [Load(ConstantCurrentDrive("20 mA", "1.5 V", 0.1, quiescent="5 mA"), RED)]
    red, both, green, free, standby, own = (hours(run_time(BLOCK, each, "5.4 V")) for each in loads)
    assert red < both < green  # the red lamp has the lower drop and takes more
    assert standby < free
    assert own == pytest.approx(standby, rel=1e-9)


def test_age_takes_the_stored_share():
    fresh, old = (run_time(BLOCK, "20 mA", "5.4 V", age=each) for each in ("0 h", "1095.75 days"))
    kept = old.si.hours / fresh.si.hours, old.si.hours_min / fresh.si.hours_min
    assert kept == pytest.approx((0.97**3, 0.956**3), rel=1e-6)
    empty = run_time(batteries["8.4 V NiMH"], "20 mA", "7 V", age="20 years")
    assert empty.hours_min.m_as("s") < 1
    assert empty.hours_max.m_as("min") > 10


@settings(max_examples=25)
@given(st.floats(1e-3, 0.1), st.floats(1.01, 4))
def test_more_current_never_lasts_longer(amperes, more):
    one, other = (run_time(BLOCK, Q(each, "A"), "5 V").si for each in (amperes, amperes * more))
    assert all(getattr(other, name) <= getattr(one, name) for name in ("hours_min", "hours", "hours_max"))
    most = BLOCK.capacity_band()[1][2, 0] / 3600
    assert one.hours_max / 3600 * amperes <= most * (1 + 1e-9)


ABLE = st.sampled_from(sorted(set(batteries) - {"3 V coin cell"}))


@settings(max_examples=25)
@given(ABLE, st.floats(200, 5e3), st.booleans(), st.floats(0.2, 0.9), st.floats(0, 1), st.floats(0, 5e-3))
def test_any_signal_gives_an_ordered_band_within_the_battery(name, ohms, steady, until, red, standby):
    drive = ConstantCurrentDrive(Q(4 / ohms, "A"), "1.5 V", 0.1) if steady else ResistorDrive(Q(ohms, "ohm"), 0.05)
    run = run_time(batteries[name], Load(drive, PAIR, red_share=red, standby=Q(standby, "A")), until)
    assert 0 <= run.si.hours_min <= run.si.hours <= run.si.hours_max
    assert 0 < run.si.used <= batteries[name].capacity_band()[1][1, 0] / 3600 * (1 + 1e-9)
    assert run.curve.light[-1] >= until - 1e-6
    assert run.ended_by in run.ends


test_what_is_refused_and_how = refused(
    (partial(run_time, dataclasses.replace(BLOCK, discharge=None), "20 mA", "5 V"), "no discharge data"),
    (partial(run_time, BLOCK, "0 mA", "5 V"), "nothing connected"),
    (partial(run_time, BLOCK, "8 A", "5 V"), "more than it can give.*at most 3.8 A"),
    (partial(run_time, BLOCK, Load(RESISTOR, [RED] * 7), 0.5), "below what drive and lamp need"),
    (lambda: run_time(BLOCK, LAMP, 0.5).when_light(2), "share needs"),
    (partial(run_time, BLOCK, LAMP, "50 mA"), "already at the start"),
    (partial(run_time, BLOCK, "20 mA", 0.5), "steady current"),
    (partial(run_time, BLOCK, LAMP, 1.0), "between 0 and 1"),
    (partial(run_time, BLOCK, LAMP, True), "bare share"),
    (partial(run_time, BLOCK, LAMP, "5 VDC"), "^until: '5 VDC' cannot be read"),
    (partial(run_time, BLOCK, Load(RESISTOR, RED, relay="24 V two-pole"), 0.5), "relay needs 18 V to pull in.*never"),
    (partial(run_time, BLOCK, Load(RESISTOR, RED, timer_voltage="9.5 V"), 0.5), "timer board needs 9.5"),
)


NIMH, ZINC = batteries["6 x AA NiMH"], batteries["9 V zinc-carbon"]
DRIVEN, LATCHED = ((BLOCK, Load(DRIVER, RED, relay=each), 0.5) for each in (RELAY_9, LATCHING))


@pytest.mark.parametrize(
    ("given", "topic", "said"),
    [
        (DRIVEN, "9 V alkaline battery", "fine: .* 11 h .4.8 h to 19 h. until"),
        ((ZINC, "60 mA", "5.4 V"), "9 V zinc-carbon battery", "do not build: .*The weakest does not even start."),
        (DRIVEN, "end of the run", "below what every relay pulls in"),
        (DRIVEN, "what uses the charge", "latching .* 23 h instead of 11 h"),
        ((BLOCK, Load(ResistorDrive("2.2 kohm"), RED, standby="8 mA"), 0.5), "what uses the charge", "or an adapter"),
        (DRIVEN, "chatter", "may buzz.*latching relay puts it off"),
        (LATCHED, "chatter", "large capacitor at the relay board.$"),
        ((BLOCK, Load(ConstantCurrentDrive("20 mA", "3.75 V"), GREEN), 0.5), "drop-out", "fine: .*holds its current"),
        ((NIMH, Load(ConstantCurrentDrive("20 mA", "5 V"), [GREEN, RED]), 0.5), "drop-out", "look again.*Even fresh"),
        # LM317L data sheet (Motorola): a lamp of 5 mA is below the 10 mA that the LM317 may need
        ((BLOCK, Load(regulators["lm317"].set_by("250 ohm"), RED), 0.5), "minimum load", "5.05 mA, less than .* any"),
        ((BLOCK, "2 mA", "5 V"), "outside the data", "less than in any published test"),
        ((batteries["3 V coin cell"], "10 mA", "2 V"), "outside the data", "carried on.*larger battery"),
        ((BLOCK, "20 mA", "5 V"), "figures from memory", "look again"),
    ],
)
def test_what_is_said_of_a_run(given, topic, said):
    found = {each.topic: str(each) for each in run_time(*given).findings}
    assert re.search(said, found[topic])


def test_the_weakest_battery_is_held_against_one_evening():
    run = run_time(ZINC, Load(ResistorDrive("1.8 kohm", 0.05), RED, relay=RELAY_9), 0.5)
    assert 2 < run.hours_min.m_as("h") < 5 < run.hours.m_as("h") < 20
    assert [run.findings_for(evening)[0].grade for evening in ("2 h", "5 h", "20 h")] == [FINE, LOOK, STOP]
