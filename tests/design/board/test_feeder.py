"""Feeder voltages at the door, boards studied whole, relays, and the thinnest wire that is enough."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, FeederSection, chain_board, star_board
from sigcalc.design.board.feeder import USUAL_GAUGES, feeder_voltages, gauge_for, relay_reach, study_board
from sigcalc.design.board.state import MOST
from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import loop_current, operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import bearable_current
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.units import Q

# ---- boards

RED, GREEN = leds["red alingap 3 mm"], leds["green ingan 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
RESISTOR = ResistorDrive("470 ohm", 0.05)
ADAPTER = adapters["9 V regulated"]
STIFF = Adapter("stiff", "9 V", 0.0, "0 ohm", "1 A")


def graded(found, topic):
    return next(each.grade for each in found if each.topic == topic)


# ---- the chain at the door


# V. K. Mehta and Rohit Mehta, Principles of Power System, Ex 13.1 p. 313 (companion notebook, FOSSEE/Python-Textbook-
# Companions @d34b2ae): 300 V, 0.02 ohm per km of loop, 100, 150, 200 and 50 A at 500, 1000, 1600 and 2000 m; exact
@pytest.mark.parametrize(
    "arguments",
    [
        (Q(300, "V"), Q([0.01, 0.01, 0.012, 0.008], "ohm"), Q([100, 150, 200, 50], "A")),
        ("300 V", ["10 mohm", "10 mohm", "12 mohm", "8 mohm"], ["100 A", "150 A", "200 A", "50 A"]),
        ("300000 mV", Q(np.array([10.0, 10.0, 12.0, 8.0]), "mohm"), [Q(1e5, "mA"), "150 A", "200 A", "50 A"]),
    ],
    ids=["quantities", "texts", "mixed"],
)
def test_textbook_feeder(arguments):
    volts = feeder_voltages(**dict(zip(("supply", "resistances", "currents"), arguments, strict=True)))
    assert volts.to("V").magnitude == pytest.approx([295.0, 291.0, 288.0, 287.6], abs=1e-9)


def test_shapes_of_a_chain():
    assert feeder_voltages("9 V", "0.5 ohm", "20 mA").to("V").magnitude == pytest.approx(8.99)
    assert feeder_voltages("9 V", ["0.5 ohm"], "20 mA").shape == (1,)
    assert feeder_voltages("9 V", "0.5 ohm", ["20 mA"] * 3).to("V").magnitude == pytest.approx([8.97, 8.95, 8.94])
    assert feeder_voltages(["9 V", "12 V"], "0.5 ohm", ["20 mA"] * 3).shape == (2, 3)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (UnitError, "supply", (9.0, "1 ohm", "20 mA")),
        (UnitError, "resistances", ("9 V", [1.0, 2.0], "20 mA")),
        (UnitError, "currents", ("9 V", "1 ohm", "20 mV")),
        (RangeError, "supply", ("-9 V", "1 ohm", "20 mA")),
        (RangeError, "currents", ("9 V", "1 ohm", Q(-20, "mA"))),
        (RangeError, "shapes", ("9 V", ["1 ohm"] * 2, ["20 mA"] * 3)),
        (RangeError, "load 2 of the chain", ("9 V", ["1 ohm", "1 kohm"], ["20 mA", "20 mA"])),
    ],
)
def test_a_faulty_chain_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        feeder_voltages(*arguments)


@given(
    st.one_of(st.text(max_size=6), st.floats(), st.floats(-5, 400).map(lambda volts: Q(volts, "V"))),
    st.text(max_size=6),
)
def test_a_chain_gives_an_answer_or_a_sigcalc_error(supply, ohms):
    try:
        volts = feeder_voltages(supply, ohms, ["20 mA", "10 mA"])
    except SigcalcError:
        return
    assert np.isfinite(volts.to("V").magnitude).all()


# ---- a board against what one loop does


@pytest.mark.parametrize(("showing", "led"), [("red", RED), ("green", GREEN)])
@pytest.mark.parametrize("drive", [RESISTOR, ConstantCurrentDrive("8 mA", "1.5 V")], ids=["resistor", "driver"])
def test_one_signal_without_a_feeder_is_a_loop(drive, showing, led):
    board = Board("bench", STIFF, (), (BoardSignal("one", SUPPLY, Load(drive, PAIR)),))
    point = study_board(board).signal("one", showing)
    alone = operate("9 V", drive, led)
    assert point.si.current == pytest.approx(alone.si.current, rel=1e-12)
    assert point.share == 1.0
    pair = PAIR.operate("9 V", drive, +1 if showing == "red" else -1)
    assert point.si.current == pytest.approx(pair.si.current, rel=1e-12)


def test_one_signal_at_the_end_of_a_wire_is_a_loop_with_the_wire():
    wire = FeederSection("run", SUPPLY, "post", 30, "40 m", "35 degC")
    board = Board("bench", STIFF, (wire,), (BoardSignal("one", "post", Load(RESISTOR, [RED, RED])),))
    point = study_board(board).signal("one")
    ohms = 470 + wire.loop_resistance.to("ohm").magnitude
    alone = operate("9 V", ResistorDrive(Q(ohms, "ohm")), [RED, RED])
    assert point.si.current == pytest.approx(alone.si.current, rel=1e-12)
    assert point.share == pytest.approx(alone.si.current / operate("9 V", RESISTOR, [RED, RED]).si.current, rel=1e-12)


def test_the_band_is_that_of_all_tolerances_together():
    board = Board("bench", ADAPTER, (), (BoardSignal("one", SUPPLY, Load(RESISTOR, RED)),))
    point = study_board(board).signal("one")
    least = operate("8.55 V", ResistorDrive("493.6 ohm"), RED).si.current  # 5 % up, and 0.1 ohm in the adapter
    most = operate("9.45 V", ResistorDrive("446.6 ohm"), RED).si.current
    assert point.si.current_min < least  # the LED's drop is higher as well
    assert point.si.current_max > most
    assert point.si.current_min == pytest.approx(_with_drop(8.55, 493.6, +1), rel=1e-9)
    assert point.si.current_max == pytest.approx(_with_drop(9.45, 446.6, -1), rel=1e-9)


def _with_drop(volts, ohms, spread):
    return float(loop_current(volts, ohms, (RED,), None, spread))


def test_a_chain_falls_from_signal_to_signal():
    study = study_board(chain_board("chain", ADAPTER, Load(RESISTOR, PAIR), 8, 30, "3 m"))
    for showing in ("red", "green"):
        currents = [point.si.current for point in study.signals(showing)]
        assert currents == sorted(currents, reverse=True)
    assert study.weakest.name == "signal 8"


def test_a_driver_keeps_every_lamp_alike_until_it_drops_out():
    board = chain_board("chain", ADAPTER, Load(ConstantCurrentDrive("10 mA", "1.5 V"), PAIR), 8, 30, "3 m")
    assert all(point.share == 1.0 for point in study_board(board).signals("red"))
    far = chain_board("chain", ADAPTER, Load(ConstantCurrentDrive("20 mA", "1.5 V"), PAIR), 14, 30, "6 m")
    found = study_board(far).findings
    assert graded(found, "drop-out") == LOOK
    assert study_board(far).weakest.share < 1.0


# ---- standby, coils, polarity, kinds of lamp


def test_standby_and_coil_load_the_feeder():
    relay = relays["9 V two-pole sensitive"]
    wire = FeederSection("run", SUPPLY, "post", 30, "20 m")
    load = Load(RESISTOR, PAIR, standby="5 mA", relay=relay)
    state = study_board(Board("one", STIFF, (wire,), (BoardSignal("one", "post", load),))).state()
    volts = float(state.si.voltage[0])
    expected = state.si.current[0] + 0.005 + volts / relay.si.coil_resistance
    assert state.si.supply_current == pytest.approx(expected, rel=1e-12)
    assert volts == pytest.approx(9.0 - wire.loop_resistance.to("ohm").magnitude * state.si.supply_current, rel=1e-12)


def test_drivers_draw_for_themselves():
    drive = ConstantCurrentDrive("10 mA", "1.5 V", quiescent="2 mA")
    state = study_board(Board("one", STIFF, (), (BoardSignal("one", SUPPLY, Load(drive, RED)),))).state()
    assert state.si.supply_current == pytest.approx(0.012, rel=1e-12)


def test_each_signal_shows_its_own_colour_as_set():
    signals = (
        BoardSignal("stop", SUPPLY, Load(RESISTOR, PAIR, polarity=+1)),
        BoardSignal("go", SUPPLY, Load(RESISTOR, PAIR, polarity=-1)),
        BoardSignal("lamp", SUPPLY, Load(RESISTOR, [RED])),
    )
    study = study_board(Board("mixed", STIFF, (), signals))
    assert [point.colour for point in study.signals()] == ["red", "green", "red"]
    assert [point.colour for point in study.signals("green")] == ["green", "green", "red"]
    assert study.signal("stop").si.current == study.signal("stop", "red").si.current


def test_light_is_compared_within_a_colour_where_it_is_known():
    brighter = Load(ResistorDrive("235 ohm"), PAIR)
    signals = (BoardSignal("dim", SUPPLY, Load(RESISTOR, PAIR)), BoardSignal("bright", SUPPLY, brighter))
    study = study_board(Board("two", STIFF, (), signals))
    dim, bright = study.signals("red")
    assert bright.beside_best == 1.0
    assert dim.beside_best == pytest.approx(dim.si.current / bright.si.current, rel=1e-9)
    white = Load(RESISTOR, leds["white 3 mm"])  # no intensity in the table
    unknown = study_board(Board("white", STIFF, (), (BoardSignal("one", SUPPLY, white),)))
    assert unknown.signal("one").beside_best is None


def test_a_lamp_of_constant_drop():
    led = Led("plain", "red", ConstantDrop("2 V"), max_current="30 mA")
    wire = FeederSection("run", SUPPLY, "post", 30, "20 m")
    point = study_board(Board("one", STIFF, (wire,), (BoardSignal("one", "post", Load(RESISTOR, led)),))).signal("one")
    assert point.si.current == pytest.approx(7.0 / (470 + wire.loop_resistance.to("ohm").magnitude), rel=1e-12)
    bare = Load(ResistorDrive("0 ohm"), led)
    with pytest.raises(DesignError, match="'one' has no resistance"):
        study_board(Board("one", STIFF, (wire,), (BoardSignal("one", "post", bare),)))


def test_a_timer_board_that_finds_no_voltage_is_refused_by_name():
    load = Load(RESISTOR, PAIR, standby="400 mA")
    with pytest.raises(RangeError, match=r"no voltage satisfies signal 'signal 2'.*400 mA"):
        study_board(chain_board("chain", adapters["5 V regulated"], load, 3, 30, "20 m"))


# ---- laws


@settings(max_examples=25)
@given(
    st.integers(1, 8), st.floats(0.0, 30.0), st.integers(20, 30), st.sampled_from(["9 V alkaline", "6 x AA alkaline"])
)
def test_energy_and_currents_balance(count, run, gauge, name):
    state = study_board(
        chain_board("chain", batteries[name], Load(RESISTOR, PAIR, standby="1 mA"), count, gauge, Q(run, "m"))
    ).state()
    volts, inside = batteries[name].corners[1]
    drawn = state.si.current + 0.001
    assert state.si.supply_current == pytest.approx(drawn.sum(), rel=1e-12)
    lost = state.si.section_current**2 @ state.board.ohms[1:] + inside * state.si.supply_current**2
    assert volts * state.si.supply_current == pytest.approx(drawn @ state.si.voltage + lost, rel=1e-12)


@settings(max_examples=15)
@given(st.floats(0.0, 20.0), st.floats(1.0, 3.0), st.booleans())
def test_longer_runs_never_give_the_weakest_more(run, factor, chain):
    make = chain_board if chain else star_board
    short, long = (
        study_board(make("b", ADAPTER, Load(RESISTOR, PAIR), 5, 28, Q(each, "m"))) for each in (run, run * factor)
    )
    assert long.weakest.share_min <= short.weakest.share_min * (1 + 1e-12)


# ---- findings


def star(load, count, gauge=22, source=ADAPTER):
    return star_board("star", source, load, count, gauge, "1 m")


def thin(run):
    return chain_board("chain", ADAPTER, Load(RESISTOR, PAIR), 8, 30, run)


DARK = Load(ResistorDrive("100 ohm"), [RED] * 4)


@pytest.mark.parametrize(
    ("board", "grades"),
    [
        (star(Load(ResistorDrive("1 kohm"), PAIR), 5), {"weakest lamp": FINE, "adapter": FINE}),
        (star(Load(RESISTOR, PAIR), 25), {"weakest lamp": FINE, "adapter": LOOK}),
        (star(Load(RESISTOR, PAIR), 40), {"weakest lamp": FINE, "adapter": STOP}),
        (star(Load(RESISTOR, PAIR), 2, source=batteries["6 x AA alkaline"]), {"weakest lamp": FINE}),
        (star(Load(ResistorDrive("150 ohm"), PAIR), 2), {"lamp current": STOP}),
        (star(Load(ResistorDrive("260 ohm", 0.05), PAIR), 2), {"lamp current": LOOK}),
        (thin("3 m"), {"weakest lamp": LOOK}),
        (chain_board("dark", adapters["5 V regulated"], DARK, 2, 30, "2 m"), {"weakest lamp": STOP}),
        (dataclasses.replace(star(Load(RESISTOR, PAIR), 16, 30), fuse="100 mA resettable"), {"wire current": LOOK}),
    ],
    ids=["sound", "close", "overloaded", "battery", "too much", "may be too much", "dim", "dark", "wire"],
)
def test_findings(board, grades):
    found = {each.topic: each.grade for each in study_board(board).findings}
    assert found | grades == found
    assert ("adapter" in found) == (board.source.name != "6 x AA alkaline")


def test_what_is_seen_at_a_glance_is_said():
    assert "seen at a glance" in study_board(thin("15 m")).findings[0].reason


def test_a_fuse_takes_some_of_the_light():
    board = star_board("star", ADAPTER, Load(RESISTOR, PAIR), 5, 22, "1 m")
    fused = Board(board.name, board.source, board.sections, board.signals, fuse="100 mA resettable")
    state, plain = study_board(fused).state(), study_board(board).state()
    assert state.si.supply_current < plain.si.supply_current
    assert state.si.node_voltage[0] == pytest.approx(9.0 - (0.1 + 4.5) * state.si.supply_current, rel=1e-12)


def test_a_study_is_asked_politely():
    study = study_board(star_board("star", ADAPTER, Load(RESISTOR, RED), 2, 22, "1 m"))
    assert study.showings == ("as set",)
    assert study.state("as set", MOST).si.supply_current == study.supply_current.to("A").magnitude
    with pytest.raises(UnknownNameError, match="as set"):
        study.state("amber")
    with pytest.raises(UnknownNameError, match="signal 1"):
        study.signal("signal 9")
    with pytest.raises(UnitError, match="Board"):
        study_board("star")


# ---- relays

ADAPTER_RELAYS = adapters["12 V regulated"]
RELAY = relays["12 V two-pole"]


def study(run, drive=None, relay=RELAY):
    load = Load(drive or ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], relay=relay)
    return study_board(chain_board("chain", ADAPTER_RELAYS, load, 4, 30, run, run))


def test_the_last_of_a_chain_is_worst_off():
    result = study("2 m")
    reach = relay_reach(result)
    assert reach.signal == "signal 4"
    # all of a corner moves together; at worst the source is low while the others take the most
    assert reach.si.voltage == result.worst.voltage[3] < min(each.si.voltage[3] for each in result.states.values())
    # Omron G5V-2 data sheet: pulls in at 75 % of 12 V at the most, at its data sheet's 23 °C
    assert reach.si.needed == pytest.approx(9.0)
    assert reach.short_of == ()
    (finding,) = reach.findings
    assert (finding.grade, finding.topic) == ("fine", "relays")


def test_a_long_chain_leaves_the_far_ones_off_while_the_near_one_pulls_in():
    reach = relay_reach(study("20 m"))
    assert "signal 4" in reach.short_of
    assert "signal 1" not in reach.short_of
    (finding,) = reach.findings
    assert finding.grade == "do not build"
    assert "may not pull in" in finding.reason
    assert f"Of all, {len(reach.short_of)} may stay off" in finding.reason


def test_what_feeds_the_coil_counts_with_the_most_it_may_keep():
    load = Load(
        ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], relay=RELAY, coil_drop="1 V", coil_drop_max="2 V"
    )
    reach = relay_reach(study_board(chain_board("chain", ADAPTER_RELAYS, load, 4, 30, "2 m", "2 m")))
    assert (reach.si.needed, reach.si.kept) == (pytest.approx(11.0), 2.0)
    assert "needs 11 V, 2 V of them for the timer that feeds its coil" in reach.findings[0].reason
    assert "timer" not in relay_reach(study("2 m")).findings[0].reason


def test_without_relays_there_is_nothing_to_say():
    assert relay_reach(study("2 m", relay=None)) is None
    assert "relays" not in {each.topic for each in study("2 m", relay=None).findings}


# ---- gauge

PAIR_GAUGE = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
LOAD = Load(ResistorDrive("470 ohm", 0.05), PAIR_GAUGE)
BOARD = chain_board("chain", adapters["9 V regulated"], LOAD, 8, 30, "2 m", "3 m")


@pytest.mark.parametrize("share", [0.85, 0.9, 0.95, 0.97])
def test_the_choice_is_enough_and_the_next_thinner_is_not(share):
    choice = gauge_for(BOARD, share)
    shares = []
    for gauge in USUAL_GAUGES:
        wired = dataclasses.replace(
            BOARD, sections=tuple(dataclasses.replace(each, wire=gauge) for each in BOARD.sections)
        )
        shares.append((gauge, study_board(wired).weakest.share_min))
    assert choice.gauge == next(gauge for gauge, left in shares if left >= share)
    assert [(gauge, choice.shares[gauge]) for gauge, _ in shares] == [
        (gauge, pytest.approx(left, rel=1e-12)) for gauge, left in shares
    ]
    assert study_board(choice.board).weakest.share_min == pytest.approx(choice.share, rel=1e-12)


def test_drivers_need_no_thick_wire():
    drivers = chain_board(
        "chain", adapters["9 V regulated"], Load(ConstantCurrentDrive("8 mA", "1.5 V"), PAIR_GAUGE), 8, 16, "2 m"
    )
    assert gauge_for(drivers, 1.0).gauge == 30


def test_findings_name_the_lamp_and_the_next_thinner_wire():
    found = gauge_for(BOARD, 0.96).findings
    assert found[0].grade == FINE
    assert "24 AWG" in found[0].reason
    assert "26 AWG would leave" in found[0].reason
    thin = gauge_for(star_board("star", adapters["12 V regulated"], LOAD, 20, 16, "0.5 m"), 0.5).findings
    assert {each.topic: each.grade for each in thin} == {"gauge": FINE, "wire current": LOOK, "strength": LOOK}


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (DesignError, "no gauge of 30, 28, 26, 24, 22, 20, 18, 16 leaves 99.99 %", {"share": 0.9999}),
        (RangeError, "share", {"share": 0.0}),
        (UnitError, "board", {"board": "chain"}),
    ],
)
def test_what_cannot_be_chosen_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        gauge_for(**{"board": BOARD} | arguments)


def test_a_board_without_a_section_has_no_wire_to_choose():
    stiff = Adapter("stiff", "9 V", 0.0, "0 ohm", "1 A")
    with pytest.raises(RangeError, match="at least one section"):
        gauge_for(Board("bench", stiff, (), (BoardSignal("one", SUPPLY, LOAD),)))


def test_the_wire_to_use_is_rated_for_the_current():
    choice = gauge_for(star_board("star", adapters["12 V regulated"], LOAD, 20, 16, "0.5 m"), 0.5)
    (found,) = (each for each in choice.findings if each.topic == "wire current")
    gauge = int(found.remedy.split()[1])
    assert bearable_current(gauge).m_as("A") >= choice.si.current > bearable_current(gauge + 2).m_as("A")
