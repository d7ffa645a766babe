"""One jumper of the X gone wrong."""

from collections import Counter

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.jumper_mistakes import findings, single_jumper_mistakes
from sigcalc.errors import DesignError, UnknownNameError
from sigcalc.parts.contacts import Position, SwitchingDevice, Wiring, wirings

CROSSED = "crossed double-throw switch"


@pytest.fixture(scope="module")
def mistakes():
    return single_jumper_mistakes(CROSSED)


def find(mistakes, jumper, fault):
    (found,) = [each for each in mistakes if each.jumper == jumper and each.fault == fault]
    return found


def test_every_single_mistake_is_there_once(mistakes):
    # 6 jumpers left out; 4 with one end on a terminal, 5 other terminals for it; 2 with both, 4 others for each end,
    # since the terminal at its other end would be a jumper from a point to itself
    assert len(mistakes) == 6 + 4 * 5 + 2 * 2 * 4
    assert len({(each.jumper, each.fault) for each in mistakes}) == len(mistakes)


@pytest.mark.parametrize(
    ("jumper", "fault", "verdict", "lamps"),
    [
        (("+", "switch up 1"), "is missing", "dead", ("dark", "dark")),
        (("switch common 1", "A"), "is missing", "dead", ("dark", "dark")),
        (("switch up 1", "switch down 2"), "is missing", "never reverses", ("red", "dark")),
        (
            ("switch up 1", "switch down 2"),
            "sits on switch down 1 instead of switch down 2",  # straight instead of crossed, one of the two
            "short circuit",
            ("short circuit", "short circuit"),
        ),
        # the same point by another way: the X joins them already
        (("+", "switch up 1"), "sits on switch down 2 instead of switch up 1", "no difference", ("red", "green")),
    ],
)
def test_what_a_mistake_shows(mistakes, jumper, fault, verdict, lamps):
    found = find(mistakes, jumper, fault)
    assert found.verdict == verdict
    assert tuple(each.lamps[0] for each in found.states) == lamps
    assert verdict in found.sentence


def test_no_single_mistake_swaps_the_colours_or_goes_unseen(mistakes):
    verdicts = Counter(each.verdict for each in mistakes)
    assert set(verdicts) == {"short circuit", "dead", "never reverses", "no difference"}


def test_grades(mistakes):
    grades = {each.verdict: findings(each)[0].grade for each in mistakes}
    assert grades == {"short circuit": STOP, "dead": LOOK, "never reverses": LOOK, "no difference": FINE}


@pytest.mark.parametrize("wiring", ["crossed two-pole relay", f"{CROSSED}, centre off", wirings["four-switch bridge"]])
def test_other_wirings(wiring):
    found = single_jumper_mistakes(wiring)
    assert {"short circuit", "never reverses"} <= {each.verdict for each in found}
    assert all(findings(each) for each in found)


def test_colours_in_other_positions_are_told_apart():
    """A rotary switch with one contact on a split supply: the jumper of + on the wrong place."""
    places = ("left", "middle", "right")
    rotary = SwitchingDevice(
        "rotary switch", ("common", *places), tuple(Position(each, (("common", each),)) for each in places)
    )
    wiring = Wiring(
        "rotary switch on a split supply",
        devices=(("switch", rotary),),
        sources=(("+", "0"), ("0", "-")),
        signals=(("signal", "A", "B"),),
        jumpers=(("+", "switch left"), ("-", "switch right"), ("switch common", "A"), ("0", "B")),
    )
    found = find(single_jumper_mistakes(wiring), ("+", "switch left"), "sits on switch middle instead of switch left")
    assert found.verdict == "other colours"
    assert [each.lamps[0] for each in found.states] == ["dark", "red", "green"]


def test_what_cannot_be_judged_is_refused():
    for wiring in ("straight instead of crossed", "two signals, one supply, own wires"):
        with pytest.raises(DesignError, match="needs one signal and has to reverse"):
            single_jumper_mistakes(wiring)
    with pytest.raises(UnknownNameError):
        single_jumper_mistakes("crossed")
