"""What the lesson "battery or adapter" says in words holds in the library: each statement stands in its test."""

import pytest

from sigcalc.design.caution import all_cautions
from sigcalc.design.power.adapter import adapter_voltage, resistor_on_adapter
from sigcalc.design.power.cost import yearly_energy
from sigcalc.design.power.drive_choice import DRIVER, RESISTOR, same_current
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import EMPTY, run_time
from sigcalc.design.power.run_time import RELAY as RELAY_ENDS
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.physics.discharge import capacity_at
from sigcalc.units import Q
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("battery_or_adapter")
RED = leds["bright red 3 mm"]
SENSITIVE, COMMON = relays["9 V two-pole sensitive"], relays["9 V two-pole"]
LATCHING = relays["9 V two-pole latching"]


def run(battery="9 V alkaline", drive=RESISTOR, current="20 mA", **load):
    source = batteries[battery]
    return run_time(source, Load(same_current(source.fresh_voltage, RED, current)[drive], RED, **load), 0.1)


def hours(*given, **load):
    return run(*given, **load).hours.m_as("h")


def test_with_a_resistor_the_light_fades_and_with_a_driver_it_collapses():
    faded, held = run(), run(drive=DRIVER)
    assert 0.85 < faded.when_light(0.5)[1] / faded.hours < 1  # the eye notices when it is nearly at its end
    assert held.curve.light[-1] == pytest.approx(1)
    assert held.ended_by == EMPTY
    assert held.hours < faded.hours


def test_the_relay_is_the_first_to_give_up():
    assert SENSITIVE.si.rated_voltage / SENSITIVE.si.coil_resistance == pytest.approx(20e-3, rel=0.2)
    assert COMMON.si.rated_voltage / COMMON.si.coil_resistance > 2 * 20e-3
    says("it needs three quarters of its voltage to be sure of pulling in")
    says("the lamp still has more than half of its light then")
    for relay in (SENSITIVE, COMMON, LATCHING):
        ended = run(relay=relay)
        assert (relay.must_operate, ended.ended_by) == (0.75, RELAY_ENDS)
        assert ended.curve.light[-1] > 0.5
    assert hours(relay=SENSITIVE) < hours(relay=LATCHING) < hours()


def test_what_coil_and_timer_board_cost():
    rarely = run(relay=SENSITIVE, energised=0.05)
    assert rarely.si.coil_charge < 0.06 * rarely.si.used
    says("A timer board that draws 5 mA all evening costs as much as a dim lamp.")
    timed = run(current="5 mA", standby="5 mA")
    assert timed.si.standby_charge > timed.si.lamp_charge
    for strong, weak in (("20 mA", "10 mA"), ("10 mA", "5 mA")):  # half the current: twice the hours, or not
        assert 2 < hours(current=weak) / hours(current=strong) < 2.3
        assert hours(current=weak, relay=SENSITIVE) / hours(current=strong, relay=SENSITIVE) < 1.6


def test_the_kinds_of_battery():
    assert run("9 V zinc-carbon", relay=SENSITIVE).hours_min.m_as("h") < 1  # over before the evening is
    says("Six AA cells hold several times as much as a 9 V battery.")
    assert hours("6 x AA alkaline") > 4 * hours()
    of_nine = {name: hours(name) for name, each in batteries.items() if each.form == "rectangular"}
    assert min(of_nine, key=of_nine.get) == "8.4 V NiMH"
    losses = {name: batteries[name].discharge.loss_per_year for name in of_nine}
    assert max(losses, key=losses.get) == "8.4 V NiMH"
    with pytest.raises(ValueError, match="never works"):
        run("3 V coin cell", relay=SENSITIVE)
    assert all(each.discharge.from_memory for each in batteries.values())  # some figures were not looked up


def practice(current="20 mA", relay=None):
    """The lesson's own cell: a fresh 9 V battery, a driver, the lamp always lit, until half the light is gone."""
    driver = ConstantCurrentDrive(current, dropout="1.5 V", tolerance=0.1)
    return run_time(batteries["9 V alkaline"], Load(driver, RED, relay=relay), until=0.5)


def test_twelve_hours_and_thirty():
    # common practice, no source: about twelve hours with the relay board
    says("So the twelve hours belong to the relay board, with its coil held all evening")
    says("and the thirty to the hand switch.")
    held, by_hand = practice(relay=SENSITIVE), practice()
    assert held.hours.m_as("h") == pytest.approx(11, abs=0.5)
    assert held.hours_min.m_as("h") < 12 < held.hours_max.m_as("h")
    assert by_hand.hours.m_as("h") == pytest.approx(30, abs=2)


def test_the_sum_by_hand():
    says("The library finds 11 hours where the sum finds 12.5.")
    coil = Q("9 V") / Q("540 ohm")
    assert coil == SENSITIVE.rated_voltage / SENSITIVE.coil_resistance
    current = Q("20 mA") + coil
    drains, (_, charges, _) = batteries["9 V alkaline"].capacity_band()
    charge = float(capacity_at(current.m_as("A"), drains, charges)) / 3600
    assert charge == pytest.approx(0.46, abs=0.005)  # the cell's 460 mAh
    assert (Q("460 mAh") / current).m_as("h") == pytest.approx(12.5, abs=0.05)
    run = practice(relay=SENSITIVE)
    assert round(run.hours.m_as("h")) == 11
    says("stops at 6.75 V, where the relay no longer pulls in, with a fifth of the charge still inside.")
    assert run.ended_by == RELAY_ENDS
    assert run.curve.si.voltage[-1] == pytest.approx(6.75, abs=1e-6)
    assert 1 - run.curve.used[-1] == pytest.approx(0.2, abs=0.03)


def test_the_unregulated_adapter_and_the_energy_from_the_mains():
    says("The unregulated adapter gives nearly half as much again as is printed on it.")
    adapter = adapters["9 V unregulated"]
    little, much = (adapter_voltage(adapter, current).si.voltage for current in ("10 mA", "200 mA"))
    assert little / 9 == pytest.approx(1.47, abs=0.02)
    assert much < little - 1
    says("A resistor chosen for the printed voltage passes nearly four tenths more current than you wanted.")
    si = resistor_on_adapter(adapter, RED, "10 mA").si
    assert si.printed_current / si.wanted == pytest.approx(1.38, abs=0.02)
    energy = yearly_energy(adapters["9 V regulated"], "20 mA", "3 h")
    assert energy.lit.m_as("kWh") < 0.1
    assert energy.idle > 10 * energy.lit


def test_every_caution_of_supplies_is_there():
    said = {
        ("battery", "short circuit"): "put a fuse close to the battery",
        ("rectangular battery", "posts"): "A coin or a key in the same pocket bridges them",
        ("alkaline battery", "leaking"): "rinse skin with plenty of water for 15 minutes",
        ("primary battery", "charging"): "Never charge a battery that is not made for it",
        ("zinc-carbon battery", "leaking"): "Take empty zinc-carbon ones out before they leak.",
        ("coin cell", "children"): "treat a swallowed cell as an emergency: call for help at once",
        ("rechargeable battery", "charging"): "Charge rechargeable cells only in a charger made for",
        ("adapter", "unmarked"): "Leave unmarked ones alone, and never open one.",
        ("adapter", "joining"): "Never join the outputs of two adapters",
        ("adapter", "first measurement"): "measure its voltage and its polarity at the plug",
    }
    for each in all_cautions():
        if "battery" in each.about or each.about in ("adapter", "coin cell"):
            says(said[each.about, each.topic])


def test_a_reader_meets_at_most_900_words_that_are_not_folded_away():
    assert open_words("battery_or_adapter") <= 900
