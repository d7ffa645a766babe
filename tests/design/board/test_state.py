"""Boards in their states: solved together or alone, kept unchangeable; and the weakest lamp at worst."""

import dataclasses
import itertools

import numpy as np
import pytest

from sigcalc.design.board.board import Board, BoardSignal, FeederSection
from sigcalc.design.board.state import (
    AS_SET,
    CORNERS,
    SHOWINGS,
    Asked,
    board_states,
    corner_states,
    corner_states_of,
    worst_of,
)
from sigcalc.design.lamp.drive import constant_drop, triples
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import GREEN, RED, Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.physics.feeder import Feeder, lamp_loads, solve_feeders

ORDINARY = TwoLeadPair(leds["bright red 3 mm"], leds["ordinary green 3 mm"])
BRIGHT = TwoLeadPair(leds["bright red 3 mm"], leds["very bright green 3 mm"], extra_red="150 ohm")
WHITE = leds["white 3 mm"]
RESISTOR, DRIVER = ResistorDrive("220 ohm", "5 %"), ConstantCurrentDrive("10 mA", "1.5 V", 0.1)
RELAY = {"relay": relays["5 V two-pole"], "standby": "5 mA"}


def chain(source, loads, gauge, metres, fuse=None):
    places = ["supply", *(f"post {number}" for number in range(len(loads)))]
    sections = [FeederSection(end, start, end, gauge, metres) for start, end in itertools.pairwise(places)]
    signals = [BoardSignal(f"s{number}", f"post {number}", load) for number, load in enumerate(loads)]
    return Board("club", source, tuple(sections), tuple(signals), fuse=fuse)


# ---- kept


def club(*polarities, plain=False):
    """A pair for each polarity, and if asked for a plain white lamp at the end."""
    drive = ResistorDrive("470 ohm", "5 %")
    loads = [Load(drive, ORDINARY, polarity=each) for each in polarities]
    return chain(adapters["9 V regulated"], loads + [Load(drive, WHITE)] * plain, 30, "4 m")


def test_every_state_is_the_one_that_solving_it_alone_gives():
    """Also where all pairs are set to one colour, and where boards of different length are solved together."""
    many = [club(1, 1, 1), club(-1, -1), club(1, -1, 1, plain=True), club(-1, plain=True), club(*[1] * 65)]
    for board, found in zip(many, corner_states_of(many), strict=True):
        assert set(found) == {(showing, corner) for showing in SHOWINGS for corner in CORNERS}
        for (showing, corner), state in found.items():
            assert state == board_states([Asked(board, showing, corner)])[0]
    red, green = corner_states(many[0])[RED, 0], corner_states(many[0])[GREEN, 0]
    assert (red.si.current > green.si.current).all()
    assert {showing for showing, _ in corner_states(club(plain=True))} == {AS_SET}


def test_a_board_keeps_its_states_unchangeable_and_a_changed_one_has_its_own():
    board = club(1, 1)
    first, again = corner_states(board), corner_states(board)
    assert all(again[key] is state for key, state in first.items())
    warmer = dataclasses.replace(board, source=adapters["9 V unregulated"])
    assert (corner_states(warmer)[RED, 0].si.current != first[RED, 0].si.current).all()
    for state in first.values():
        with pytest.raises(ValueError, match="read-only"):
            state.si.current[0] = 1.0
    first.clear()
    assert len(corner_states(board)) == len(SHOWINGS) * len(CORNERS)


# ---- worst

FIVE, BLOCK = adapters["5 V regulated"], batteries["9 V alkaline"]
BOARDS = {
    "5 V, eight alike": chain(FIVE, [Load(RESISTOR, ORDINARY)] * 8, 28, "4 m"),
    "5 V, long and thin": chain(FIVE, [Load(RESISTOR, ORDINARY)] * 5, 30, "8 m"),
    "5 V, one alone": chain(FIVE, [Load(RESISTOR, ORDINARY)], 30, "60 m"),
    "5 V, bright green": chain(FIVE, [Load(RESISTOR, BRIGHT)] * 4, 28, "5 m"),
    "5 V, two kinds": chain(FIVE, [Load(RESISTOR, ORDINARY), Load(RESISTOR, BRIGHT, -1)] * 3, 26, "6 m"),
    "5 V, drivers that drop out": chain(FIVE, [Load(DRIVER, ORDINARY)] * 6, 28, "6 m"),
    "5 V, relays": chain(FIVE, [Load(RESISTOR, ORDINARY, **RELAY)] * 3, 24, "3 m"),
    "9 V battery, fuse": chain(BLOCK, [Load(RESISTOR, ORDINARY)] * 4, 28, "10 m", fuses["200 mA resettable"]),
    "12 V unregulated": chain(adapters["12 V unregulated"], [Load(RESISTOR, ORDINARY)] * 6, 30, "6 m"),
    "plain lamps": chain(FIVE, [Load(RESISTOR, WHITE)] * 4, 28, "6 m"),
}


def built(board, draw, colours, volts_at):
    """Shares of light of many builds at once, shape (builds, signals).

    draw: -1 to +1, shape (builds, signals + 1, 3): drop, drive and coil of each signal; the last row that of source
    resistance and fuse. colours: which lamp each shows. volts_at: 0 to 1, one for all builds.
    """
    count, nodes = len(draw), len(board.nodes)
    (low, most_ohms), _, (high, least_ohms) = board.source.corners
    volts = low + (high - low) * volts_at
    inside = _between(least_ohms, most_ohms, draw[:, -1, 0])
    fuse = 0.0 if board.fuse is None else _between(board.fuse.ohms[2], board.fuse.ohms[0], draw[:, -1, 1])
    first = 1 + nodes * np.arange(count)  # the builds hang beside each other on one source without any resistance
    above = np.concatenate([[-1], *(np.where(board.above < 0, 0, board.above + each) for each in first)])
    ohms = np.concatenate([[0.0], *(np.append(each, board.ohms[1:]) for each in inside + np.broadcast_to(fuse, count))])
    groups, lit, others = [], [], []
    for place, signal in enumerate(board.signals):
        at, (drop, off, coil) = first + board.place[signal.node], draw[:, place].T
        load, drive = signal.load, signal.load.drive
        for colour in (RED, GREEN):
            shown = np.flatnonzero(colours[:, place] == colour)
            string, extra = load.branch(colour)
            resistor = isinstance(drive, ResistorDrive)
            series = drive.series_resistance * (1 - off[shown] * drive.tolerance * resistor) + extra
            limit = drive.limit * (1 + off[shown] * drive.tolerance)
            if shown.size:
                leds_, fixed = triples(string, None, drop[shown]), constant_drop(string, drop[shown])
                groups.append(lamp_loads(at[shown], series, leds_, fixed, limit))
                lit.append((shown, place))
        steady = load.si.standby + drive.own_current
        if steady > 0:
            others.append(lamp_loads(at, np.full(count, 1.0 / steady), limit=steady))
        if load.relay is not None:
            others.append(lamp_loads(at, load.relay.si.coil_resistance * (1 - coil * load.relay.coil_tolerance)))
    (point,) = solve_feeders([Feeder(volts, above, ohms, groups + others)])
    share, left = np.empty((count, len(board.signals))), point.load_current
    for group, (shown, place) in zip(groups, lit, strict=True):
        current, left = np.split(left, [group.node.size])
        share[shown, place] = current / group.answer(group.alone(volts, inside[shown]))[0]
    return share


def _between(least, most, draw):
    return least + (most - least) * (draw + 1) / 2


@pytest.mark.parametrize("board", BOARDS.values(), ids=list(BOARDS))
@pytest.mark.parametrize("ends", [False, True], ids=["anywhere", "at the ends"])
def test_no_random_build_falls_below_the_worst(board, ends):
    """Four thousand builds of each board, the parts anywhere within their tolerances or at an end of them."""
    random = np.random.default_rng(11)
    worst = worst_of(board)
    for volts_at in (0.0, 1.0, *random.uniform(size=6)):
        draw = random.uniform(-1, 1, (500, len(board.signals) + 1, 3))
        draw = np.sign(draw) if ends else draw
        colours = random.choice([RED, GREEN], (500, len(board.signals)))
        share = built(board, draw, colours, volts_at)
        for colour in (RED, GREEN):
            found = np.where(colours == colour, share, 1.0)
            assert (found >= worst.share[colour] - 1e-9).all()


@pytest.mark.parametrize("board", BOARDS.values(), ids=list(BOARDS))
def test_the_worst_is_nearly_that_of_one_low_lamp_among_high_ones(board):
    """Otherwise a bound of zero would pass; what is lost is met within a tenth of itself."""
    worst, (count, random) = worst_of(board), (len(board.signals), np.random.default_rng(3))
    for place, colour in itertools.product(range(count), (RED, GREEN)):
        draw = np.ones((256, count + 1, 3)) * [-1.0, 1.0, 1.0]
        draw[:, -1] = 1.0
        draw[:, place, 0] = 1.0
        draw[:, place, 1] = random.choice([-1.0, 1.0], 256)
        colours = random.choice([RED, GREEN], (256, count))
        colours[:4], colours[4:8] = RED, GREEN
        colours[:, place] = colour
        met = min(built(board, draw, colours, at)[:, place].min() for at in (0.0, 1.0))
        least = worst.share[colour][place]
        assert least <= met + 1e-9
        assert 1 - least <= 1.1 * (1 - met) + 1e-9
