"""The cut and strip list."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given

from sigcalc.design.board.cutting import COLOURS, cut_list, findings
from sigcalc.design.findings import FINE, LOOK, worst
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.wire import wire_resistance, wires
from sigcalc.units import Q

MAST = {"mast_height": "120 mm", "distance": "300 mm", "slack": "50 mm"}
STRIP = 6.35  # 1/4 in of insulation is stripped: common practice, no source


def lengths(cuts):
    return [piece.length.to("mm").magnitude for piece in cuts.pieces]


def test_two_lamps_head_to_tail():
    cuts = cut_list(**MAST, lamp_heights=["100 mm", "60 mm"])
    main, link = 300 + 50 + 60 + 2 * STRIP, 40 + 2 * STRIP
    assert lengths(cuts) == pytest.approx([main, main, link, link])
    assert [each.colour for each in cuts.pieces] == ["orange", "blue", "orange", "blue"]
    assert all(each.strip_first == each.strip_second == Q("1/4 in") for each in cuts.pieces)
    assert cuts.leads == Q("1/4 in")  # leads are trimmed to about 1/4 in: common practice, no source
    assert cuts.total.to("mm").magnitude == pytest.approx(2 * (main + link))
    assert cuts.to_buy / cuts.total == pytest.approx(1.1)


def test_the_loop_is_there_and_back_at_the_current():
    cuts = cut_list(**MAST, lamp_heights=["100 mm", "60 mm"], current="20 mA", temperature="40 degC")
    whole = wire_resistance(26, cuts.total, "40 degC")
    assert cuts.loop_resistance.magnitude == pytest.approx(whole.magnitude, rel=1e-12)
    assert sum(each.resistance for each in cuts.pieces).magnitude == pytest.approx(whole.magnitude, rel=1e-12)
    assert cuts.voltage_lost.to("V").magnitude == pytest.approx(0.02 * whole.magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("heights", "number", "runs", "loop"),
    [
        # one lamp: two wires
        ("60 mm", 2, [410, 410], [410, 410]),
        # leads of 1/4 in reach over 12.7 mm: no wire between
        (["60 mm", "72 mm"], 2, [410, 410], [410, 410]),
        (["60 mm", "73 mm"], 2, [410, 410, 13, 13], [410, 410, 13, 13]),
        # a common wire, one for each lamp, the common linked
        (["60 mm", "100 mm"], 3, [410, 410, 450, 40], [410, 450, 40]),
        # two wires for each lamp
        (["60 mm", "100 mm"], 4, [410, 410, 450, 450], [450, 450]),
        (["20 mm", "60 mm", "100 mm"], 2, [370, 370, 40, 40, 40, 40], [370, 370, 40, 40, 40, 40]),
        (["20 mm", "60 mm", "100 mm"], 6, [370, 370, 410, 410, 450, 450], [450, 450]),
    ],
)
def test_forms(heights, number, runs, loop):
    cuts = cut_list(**MAST, lamp_heights=heights, wires=number)
    assert lengths(cuts) == pytest.approx([each + 2 * STRIP for each in runs])
    there_and_back = Q(sum(each + 2 * STRIP for each in loop), "mm")
    assert cuts.loop_resistance.magnitude == pytest.approx(wire_resistance(26, there_and_back).magnitude)
    if number > 2:
        mains = [each for each in cuts.pieces if each.what.startswith("terminal")]
        assert len({each.colour for each in mains}) == number


def test_no_wire_looks_like_a_lamp():
    assert {"red", "green", "yellow"}.isdisjoint(COLOURS)


def test_steps_and_findings_say_to_mark_the_anode_before_trimming():
    cuts = cut_list(**MAST, lamp_heights="100 mm")
    marking = next(place for place, each in enumerate(cuts.steps) if "anode" in each)
    trimming = next(place for place, each in enumerate(cuts.steps) if each.startswith("Trim"))
    assert marking < trimming
    # the longer lead is the anode: common practice, no source
    assert any("anode" in each.reason and "before trimming" in each.remedy for each in findings(cuts))
    assert worst(findings(cuts)) == FINE


def test_a_long_thin_wire_is_flagged():
    cuts = cut_list("120 mm", "30 m", "100 mm", wire="30 AWG wrapping", current="10 mA")
    assert cuts.voltage_lost > Q("0.1 V")
    assert findings(cuts)[0].grade == LOOK
    assert findings(cuts)[0].remedy
    assert cut_list("120 mm", "30 m", "100 mm", wire=wires["20 AWG solid hook-up"]).voltage_lost < Q("0.1 V")


def test_bad_input_is_refused():
    sound = {**MAST, "lamp_heights": ["60 mm", "100 mm"]}
    faults = [
        ({"lamp_heights": "130 mm"}, DesignError, "the mast is 120 mm high"),
        ({"wires": 5}, DesignError, "2 .*or 3 .*or 4"),
        ({"wires": 2.5}, DesignError, "but 2.5 came"),
        ({"lamp_heights": []}, UnitError, "lamp_heights needs a length"),
        ({"lamp_heights": ["1 mm"] * 9}, DesignError, "1 to 8 lamps"),
        ({"mast_height": 120}, UnitError, "mast_height needs a length with its unit"),
        ({"strip": "300 mm"}, DesignError, "strip less"),
        ({"waste": "200 %"}, RangeError, "waste"),
        ({"wire": "26 AWG"}, UnknownNameError, "26 AWG solid hook-up"),
        ({"colours": ["blue"]}, DesignError, "2 different words"),
        ({"colours": ["blue", "blue"]}, DesignError, "2 different words"),
        ({"colours": 3}, DesignError, "2 different words"),
        ({"distance": ["1 m", "2 m"]}, UnitError, "one length"),
    ]
    for fault, kind, sentence in faults:
        with pytest.raises(kind, match=sentence):
            cut_list(**sound | fault)


LENGTHS = st.one_of(st.floats(-10, 2000).map(lambda d: Q(d, "mm")), st.text(max_size=5), st.floats(), st.none())


@given(
    st.floats(0, 500).map(lambda d: Q(d, "mm")),
    st.one_of(st.just("300 mm"), LENGTHS),
    st.one_of(LENGTHS, st.lists(st.floats(0, 500).map(lambda d: Q(d, "mm")), max_size=9)),
    st.one_of(st.integers(-1, 8), st.floats()),
    st.one_of(st.just("5 mm"), LENGTHS),
    st.one_of(st.just(0.1), st.floats(), st.text(max_size=4)),
)
def test_an_answer_or_a_sigcalc_error(mast_height, distance, lamp_heights, number, strip, waste):
    try:
        cuts = cut_list(mast_height, distance, lamp_heights, number, strip=strip, waste=waste)
    except SigcalcError:
        return
    assert sum(lengths(cuts)) == pytest.approx(cuts.total.to("mm").magnitude)
    assert cuts.to_buy >= cuts.total
    assert np.isfinite(cuts.voltage_lost.magnitude)
    assert cuts.loop_resistance <= sum(each.resistance for each in cuts.pieces) * (1 + 1e-12)
    assert findings(cuts)
