"""Boards drawn: lamps, words, wires, source, short circuit; and the lamps without their wires."""

import dataclasses
import itertools
import math
import re

import numpy as np
import pytest

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.errors import RangeError
from sigcalc.parts.source import batteries
from sigcalc.parts.wire import wires
from sigcalc.views.board import board_picture, share_words, wire_words
from sigcalc.views.style import lamp_fill
from tests.views.samples import ADAPTER, BENCH, LAMPS, MIXTURE, along
from tests.views.svg import SVG, by_words, corners, fills, group, groups, words

# ---- board

CHAIN = study_board(along("chain"))
THIN = study_board(chain_board("thin", ADAPTER, LAMPS, 20, 30, "20 m"))


def words_of(picture, name):
    lines = [each.text for each in group(picture, f"words {name}").iter(SVG + "text") if each.text]
    return lines[0], lines[-1]


def test_every_signal_has_its_lamps_its_name_and_its_light_in_words():
    picture, state = board_picture(CHAIN.state()), CHAIN.state()
    for signal, amps, share in zip(CHAIN.board.signals, state.si.current, state.share, strict=True):
        name, said = words_of(picture, signal.name)
        assert signal.name.startswith(name.removesuffix("…"))
        assert said.startswith(f"red {1e3 * amps:.3g} mA, {100 * share:.0f} %: ")
        assert fills(group(picture, f"lamp {signal.name} red lit")) == [lamp_fill("red").lower()]
        assert fills(group(picture, f"lamp {signal.name} green dark")) == []


def test_the_lit_part_of_the_lens_and_the_rays_grow_with_the_light():
    picture, state = board_picture(THIN.state()), THIN.state()
    lit = [number for number, share in enumerate(state.share) if 0.05 < share < 1]
    lamps = [group(picture, f"lamp signal {number + 1} red lit") for number in lit]
    areas = np.array([float(each.findall(SVG + "circle")[2].get("r")) for each in lamps]) ** 2
    rays = np.array([math.dist(*corners(each.iter(SVG + "polyline"))[0]) for each in lamps])
    for seen in (areas, rays):
        assert seen / seen[0] == pytest.approx(state.share[lit] / state.share[lit[0]], rel=0.02)


def test_green_is_shown_where_green_is_asked_for_and_a_single_lamp_has_one_lens():
    picture = board_picture(CHAIN.state("green"))
    assert len(groups(picture, "lamp")) == 8
    assert fills(group(picture, "lamp yard green lit")) == [lamp_fill("green").lower()]
    assert words_of(picture, "yard")[1].startswith("green ")
    bench = board_picture(study_board(BENCH).state())
    assert [each.get("class") for each in groups(bench, "lamp one")] == ["lamp one white lit"]


def test_every_section_says_its_wire_length_and_current_and_is_thicker_the_more_it_carries():
    picture, currents = board_picture(CHAIN.state()), CHAIN.state().si.section_current
    sections = zip(CHAIN.board.sections, currents, strict=True)
    said = {f"30 AWG, {section.si.length:.3g} m, {1e3 * current:.3g} mA" for section, current in sections}
    assert said <= set(words(picture))
    lines = group(picture, "wires").findall(SVG + "polyline")
    widths = np.array([float(each.get("stroke-width")) for each in lines])
    assert np.all(np.diff(widths) < 0)
    assert np.diff(widths) / np.diff(currents) == pytest.approx(np.full(3, (widths[0] - 1.2) / currents[0]), rel=0.05)


def test_wires_join_the_rows():
    lines = corners(group(board_picture(CHAIN.state()), "wires").iter(SVG + "polyline"))
    assert all(upper[-1] == lower[0] for upper, lower in itertools.pairwise(lines))
    star = board_picture(study_board(along("star")).state())
    (bar,) = group(star, "terminal strip").findall(SVG + "rect")
    low, high = float(bar.get("y")), float(bar.get("y")) + float(bar.get("height"))
    ends = corners(group(star, "wires").iter(SVG + "polyline"))[1:]
    assert len(ends) == 4
    assert all(low < y < high for line in ends for _, y in line)


def test_the_weakest_is_named_where_it_is_seen():
    assert "weakest" not in words(board_picture(CHAIN.state()))
    state = THIN.state()
    seen = np.flatnonzero(state.si.current > 1e-5)
    assert state.share[seen[-1]] == state.share[seen].min()
    picture = board_picture(state)
    assert by_words(picture, f"signal {seen[-1] + 1}").top == pytest.approx(by_words(picture, "weakest").top)


def test_what_the_adapter_gives_of_its_rating():
    picture, gives = board_picture(CHAIN.state()), CHAIN.state().si.supply_current
    assert f"gives {1e3 * gives:.3g} mA of its 1 A ({100 * gives:.0f} %)" in words(picture)
    whole, part = (float(each.get("width")) for each in group(picture, "load of the adapter").findall(SVG + "rect"))
    assert part / whole == pytest.approx(gives, rel=1e-3)
    battery = dataclasses.replace(CHAIN.board, source=batteries["9 V alkaline"])
    assert not groups(board_picture(study_board(battery).state()), "load of the adapter")


def test_a_short_is_marked_at_its_node_and_said():
    held = short_at(along("star"), "yard").held
    picture = board_picture(held, "yard")
    name = by_words(picture, "yard")
    assert by_words(picture, "SHORT HERE").top == pytest.approx(name.top)
    assert "There is a short circuit across yard." in picture.sentence
    assert "gives all of its 1 A" in words(picture)
    assert picture.sentence.endswith("Dark: yard red.")
    assert by_words(board_picture(held, "terminal strip"), "SHORT HERE").top < name.top


def test_a_fuse_a_joint_and_what_is_not_yet_connected_have_rows_of_their_own():
    said = set(words(board_picture(study_board(MIXTURE).state(), waiting=["later"])))
    assert {"fuse: 1.1 A resettable", "9.26 V behind the fuse", "joint", "two", "later, not connected"} <= said


def test_a_board_too_large_to_draw_is_refused():
    with pytest.raises(RangeError, match="at most 120 signals and joints to be drawn; you gave 200"):
        board_picture(study_board(chain_board("long", ADAPTER, LAMPS, 200, 22, "1 m")).state())


def test_the_sentence_names_the_signals_by_their_light_and_counts_the_many():
    assert "Full light: east home red 98 %, starter red 96 %" in board_picture(CHAIN.state()).sentence
    assert re.search(r"A little dim: \d+ signals\.", board_picture(THIN.state()).sentence)


def test_nothing_is_rounded_to_zero_or_to_all_and_wires_are_said_in_short():
    said = {1: "100 %", 0.996: "100 %", 0.994: "99 %", 0.01: "1 %", 0.001: "under 1 %", 0: "0 %"}
    assert {share: share_words(share) for share in said} == said
    given = (26, "22 AWG stranded hook-up", wires["30 AWG wrapping"], wires["0.14 mm2 flexible"])
    assert [wire_words(each) for each in given] == ["26 AWG", "22 AWG", "30 AWG", "0.14 mm² flexible"]
