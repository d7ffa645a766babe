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

# ---- kept

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
DRIVE = ResistorDrive("470 ohm", "5 %")


def board(*polarities, plain=False):
    """A chain of 30 AWG with a pair for each polarity, and if asked for a plain white lamp at its end."""
    loads = [Load(DRIVE, PAIR, polarity=each) for each in polarities]
    loads += [Load(DRIVE, leds["white 3 mm"])] if plain else []
    places = ["supply", *(f"post {number}" for number in range(len(loads)))]
    sections = [FeederSection(end, start, end, 30, "4 m") for start, end in itertools.pairwise(places)]
    signals = [BoardSignal(f"s{number}", f"post {number}", load) for number, load in enumerate(loads)]
    return Board("club", adapters["9 V regulated"], tuple(sections), tuple(signals))


@pytest.mark.parametrize("polarities", [(1, 1, 1), (-1, -1), (1, -1, 1)])
@pytest.mark.parametrize("plain", [False, True])
def test_every_state_is_the_one_that_solving_it_gives(polarities, plain):
    """Where all pairs are set to one colour that colour's states are not solved again."""
    club = board(*polarities, plain=plain)
    found = corner_states(club)
    assert set(found) == {(showing, corner) for showing in SHOWINGS for corner in CORNERS}
    for (showing, corner), state in found.items():
        assert state == board_states([Asked(club, showing, corner)])[0]


def test_plain_lamps_have_their_own_states_alone():
    assert {showing for showing, _ in corner_states(board(plain=True))} == {AS_SET}


def test_red_and_green_differ_where_the_drops_do():
    found = corner_states(board(1, 1))
    assert (found[RED, 0].si.current > found[GREEN, 0].si.current).all()


def test_a_board_gives_what_it_kept_and_a_changed_one_its_own():
    club = board(1, 1)
    first, again = corner_states(club), corner_states(club)
    assert all(again[key] is state for key, state in first.items())
    warmer = dataclasses.replace(club, source=adapters["9 V unregulated"])
    assert (corner_states(warmer)[RED, 0].si.current != first[RED, 0].si.current).all()


def test_boards_that_are_solved_together_do_not_know_of_each_other():
    many = [board(1, -1), board(-1, plain=True), board(*[1] * 65), board(1, 1, 1)]
    for club, found in zip(many, corner_states_of(many), strict=True):
        for (showing, corner), state in found.items():
            assert state == board_states([Asked(club, showing, corner)])[0]


def test_what_is_kept_cannot_be_written_into():
    club = board(1, 1)
    kept = corner_states(club)
    for state in kept.values():
        with pytest.raises(ValueError, match="read-only"):
            state.si.current[0] = 1.0
    kept.clear()
    assert len(corner_states(club)) == len(SHOWINGS) * len(CORNERS)


# ---- worst

ORDINARY = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
BRIGHT = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"], extra_red="150 ohm")
RESISTOR, DRIVER = ResistorDrive("220 ohm", "5 %"), ConstantCurrentDrive("10 mA", "1.5 V", 0.1)
RELAY = {"relay": relays["5 V two-pole"], "standby": "5 mA"}


def chain(source, loads, gauge, metres, fuse=None):
    places = ["supply", *(f"post {number}" for number in range(len(loads)))]
    sections = [FeederSection(end, start, end, gauge, metres) for start, end in itertools.pairwise(places)]
    signals = [BoardSignal(f"s{number}", f"post {number}", load) for number, load in enumerate(loads)]
    return Board("club", source, tuple(sections), tuple(signals), fuse=fuse)


BOARDS = {
    "5 V, eight alike": chain(adapters["5 V regulated"], [Load(RESISTOR, ORDINARY)] * 8, 28, "4 m"),
    "5 V, long and thin": chain(adapters["5 V regulated"], [Load(RESISTOR, ORDINARY)] * 5, 30, "8 m"),
    "5 V, one alone": chain(adapters["5 V regulated"], [Load(RESISTOR, ORDINARY)], 30, "60 m"),
    "5 V, bright green": chain(adapters["5 V regulated"], [Load(RESISTOR, BRIGHT)] * 4, 28, "5 m"),
    "5 V, two kinds": chain(
        adapters["5 V regulated"], [Load(RESISTOR, ORDINARY), Load(RESISTOR, BRIGHT, -1)] * 3, 26, "6 m"
    ),
    "5 V, drivers that drop out": chain(adapters["5 V regulated"], [Load(DRIVER, ORDINARY)] * 6, 28, "6 m"),
    "5 V, relays": chain(adapters["5 V regulated"], [Load(RESISTOR, ORDINARY, **RELAY)] * 3, 24, "3 m"),
    "9 V battery, fuse": chain(
        batteries["9 V alkaline"], [Load(RESISTOR, ORDINARY)] * 4, 28, "10 m", fuses["200 mA resettable"]
    ),
    "12 V unregulated": chain(adapters["12 V unregulated"], [Load(RESISTOR, ORDINARY)] * 6, 30, "6 m"),
    "plain lamps": chain(adapters["5 V regulated"], [Load(RESISTOR, leds["white 3 mm"])] * 4, 28, "6 m"),
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
    share, taken = np.empty((count, len(board.signals))), 0
    for group, (shown, place) in zip(groups, lit, strict=True):
        current = point.load_current[taken : taken + group.node.size]
        share[shown, place] = current / group.answer(group.alone(volts, inside[shown]))[0]
        taken += group.node.size
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
