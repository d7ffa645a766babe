"""Lamps and wires in their holes; the cut and strip list."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given

from sigcalc.design.board.wire_and_holes import COLOURS, cut_list, lamp_in_hole, wires_in_hole
from sigcalc.design.findings import FINE, LOOK, STOP, worst
from sigcalc.errors import SigcalcError
from sigcalc.parts.wire import Wire, wire_resistance
from sigcalc.units import Q
from tests.refusals import refused

SOLID = "26 AWG solid hook-up"
GRADES = {"fine": FINE, "tight": LOOK, "does not fit": STOP}


def own(diameter):
    """A wire of one diameter over the insulation."""
    return Wire(diameter, 1, "0.4 mm", diameter, diameter, diameter)


@pytest.mark.parametrize(
    ("count", "wire", "drill", "verdict"),
    [
        # common practice, no source: 3/32 in passes two 26 AWG solid wires ...
        (2, own("1.167 mm"), "3/32 in", "tight"),
        # ... and fails for the 1.2 to 1.3 mm over the insulation that some makers quote
        (2, own("1.2 mm"), "3/32 in", "does not fit"),
        (2, SOLID, "3/32 in", "does not fit"),
        (2, own("1.14 mm"), "3/32 in", "fine"),
        # common practice, no source: a 1/16 in pilot hole
        (1, SOLID, "1/16 in", "fine"),
        (2, "30 AWG wrapping", "no. 52", "fine"),
        (2, SOLID, "2.7 mm", "fine"),
        (2, SOLID, "2.6 mm", "tight"),
    ],
)
def test_wires_in_a_hole(count, wire, drill, verdict):
    fit = wires_in_hole(count, wire, drill)
    (found,) = fit.findings
    assert (fit.verdict, found.grade, bool(found.remedy)) == (verdict, GRADES[verdict], verdict != "fine")


def test_clearances_and_the_drill_to_use():
    fit = wires_in_hole(2, SOLID, "3/32 in")
    assert fit.thickest_wire.m_as("mm") == pytest.approx(1.190625, abs=5e-7)
    assert (fit.bundle.most, fit.clearance.least) == pytest.approx((2.6e-3, 2.38125e-3 - 2.6e-3))
    assert fit.findings[0].remedy.startswith("Drill 2.7 mm")
    assert "more than one hole" in wires_in_hole(20, own("3 mm"), "1/2 in").findings[0].remedy
    assert lamp_in_hole("3 mm lamp, low profile", "1/8 in").findings[0].remedy.startswith("Drill 3.2 mm")
    clearance = lamp_in_hole("3 mm lamp, generic", "3.2 mm").clearance
    assert [1e3 * each for each in clearance] == pytest.approx([3.2 - 3.15, 3.2 - 2.95, 3.3 - 2.75])


@pytest.mark.parametrize(
    ("outline", "drill", "body", "flange"),
    [
        # common practice, no source: a 1/8 in hole takes a 3 mm LED
        # HLMP-K150 data sheet: body 2.67 to 3.17 mm, flange 2.92 to 3.43 mm
        ("3 mm lamp, T-1 outline", "1/8 in", "fine", "may slip through"),
        ("3 mm lamp, T-1 outline", "3 mm", "tight", "may slip through"),
        ("3 mm lamp, T-1 outline", "7/64 in", "does not fit", "stops it"),
        ("3 mm lamp, T-1 outline", "5/32 in", "fine", "slips through"),
        # HLMP-1450 data sheet: 0.125 in, which is the hole's own size
        ("3 mm lamp, low profile", "1/8 in", "tight", "is not known"),
        # GB-413 series data sheet: 2.95 mm plus or minus 0.2, flange 3.8 mm
        ("3 mm lamp, generic", "1/8 in", "fine", "stops it"),
    ],
)
def test_lamps_in_a_hole(outline, drill, body, flange):
    fit = lamp_in_hole(outline, drill)
    assert (fit.body, fit.flange, fit.findings[0].grade) == (body, flange, GRADES[body])
    assert (len(fit.findings) == 2) is (flange in ("may slip through", "slips through"))


# ---- the cut list

STRIP = 6.35  # 1/4 in of insulation is stripped: common practice, no source


def cuts_of(heights, **more):
    return cut_list(mast_height="120 mm", distance="300 mm", slack="50 mm", lamp_heights=heights, **more)


test_what_is_refused = refused(
    (lambda: wires_in_hole(21, SOLID, "3 mm"), "count"),
    (lambda: cuts_of("130 mm"), "the mast is 120 mm high"),
    (lambda: cuts_of(["1 mm"] * 9), "1 to 8 lamps"),
)


@pytest.mark.parametrize(
    ("heights", "runs"),
    [
        ("60 mm", [410, 410]),
        (["100 mm", "60 mm"], [410, 410, 40, 40]),
        # leads of 1/4 in reach over 12.7 mm: no wire between
        (["60 mm", "72 mm"], [410, 410]),
        (["60 mm", "73 mm"], [410, 410, 13, 13]),
    ],
)
def test_pieces_and_their_loop(heights, runs):
    cuts = cuts_of(heights, current="20 mA")
    assert [each.length.m_as("mm") for each in cuts.pieces] == pytest.approx([each + 2 * STRIP for each in runs])
    assert [each.colour for each in cuts.pieces] == ["orange", "blue"] * (len(runs) // 2)
    assert cuts.total.m_as("mm") == pytest.approx(sum(each + 2 * STRIP for each in runs))
    assert cuts.to_buy / cuts.total == pytest.approx(1.1)
    whole = wire_resistance(26, cuts.total).m_as("ohm")
    assert (cuts.si.loop_resistance, cuts.si.voltage_lost) == pytest.approx((whole, 0.02 * whole), rel=1e-12)


def test_the_anode_is_marked_before_trimming_and_a_long_thin_wire_is_flagged():
    assert {"red", "green", "yellow"}.isdisjoint(COLOURS)  # no wire looks like a lamp
    # the longer lead is the anode: common practice, no source
    found = cuts_of("100 mm").findings
    assert any("anode" in each.reason and "before trimming" in each.remedy for each in found)
    assert worst(found) == FINE
    thin, thick = (cut_list("120 mm", "30 m", "100 mm", each) for each in ("30 AWG wrapping", "20 AWG solid hook-up"))
    assert thin.voltage_lost > Q("0.1 V") > thick.voltage_lost
    assert thin.findings[0].grade == LOOK


LENGTHS = st.one_of(st.floats(-10, 2000).map(lambda d: Q(d, "mm")), st.text(max_size=5), st.floats(), st.none())


@given(LENGTHS, st.one_of(LENGTHS, st.lists(st.floats(0, 500).map(lambda d: Q(d, "mm")), max_size=9)))
def test_an_answer_or_a_sigcalc_error(distance, lamp_heights):
    try:
        cuts = cut_list("400 mm", distance, lamp_heights)
    except SigcalcError:
        return
    assert np.isfinite(cuts.voltage_lost.magnitude)
    assert cuts.findings
