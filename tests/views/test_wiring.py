"""Wirings drawn with symbols: paper and wiring join the same points, and what is live, shorted or lit is seen."""

import itertools

import pytest

from sigcalc.design.pair.wiring import RESISTOR_FIRST, reversing, wirings
from sigcalc.errors import DesignError
from sigcalc.views.style import lamp_fill
from sigcalc.views.wiring import layout_of, reversing_brief, reversing_circuit, said
from tests.views.svg import SVG, corners, fills, group, groups, words

ONE_SIGNAL = [name for name, each in wirings.items() if len(each.signals) == 1]
CROSSED = "crossed double-throw switch"
STRAIGHT = f"{CROSSED}, one jumper straight"
SHARED = "two signals, one supply, shared return"


def cases(names):
    return [(name, positions) for name in names for positions in reversing(name).states]


def drawn(name, positions, **more):
    wiring, shown = wirings[name], reversing(name).states[tuple(positions)]
    return reversing_circuit(wiring, wiring.closed(positions), shown, **more)


@pytest.mark.parametrize(("name", "positions"), cases(ONE_SIGNAL))
def test_contacts_and_lit_lamp_are_seen_in_fill_words_and_sentence(name, positions):
    shown, picture, wiring = reversing(name).states[positions], drawn(name, positions), wirings[name]
    for contact in wiring.contacts:
        on = [throw for throw in contact[1:] if (contact[0], throw) in wiring.closed(positions)]
        assert groups(picture, f"contact {contact[0]} {'on ' + on[0] if on else 'open'}")
    for lamp in ("red", "green"):
        lit = lamp in shown.lamps
        assert (lamp_fill(lamp).lower() in fills(group(picture, f"led {lamp} {'lit' if lit else 'dark'}"))) == lit
        assert (f"{lamp.upper()} ON" in " ".join(words(picture))) == lit
    assert shown.position in picture.sentence
    assert bool(groups(picture, "short circuit")) == shown.short == ("SHORT CIRCUIT" in words(picture))


@pytest.mark.parametrize("name", ONE_SIGNAL)
def test_every_jumper_is_drawn_from_end_to_end_and_touches_no_other(name):
    wiring, positions = wirings[name], next(iter(reversing(name).states))
    layout, picture = layout_of(wiring), drawn(name, positions)
    assert len(set(layout.places.values())) == len(wiring.points) == len(layout.places)
    for ends in wiring.jumpers:
        line, *_ = corners(group(picture, f"jumper {' to '.join(ends)} ").iter(SVG + "polyline"))  # then its dots
        assert (line[0], line[-1]) == tuple(layout.places[end] for end in ends)
    for one, other in itertools.combinations(wiring.jumpers, 2):
        if not set(one) & set(other):
            shared = set(layout.route(*one)) & set(layout.route(*other))
            assert not shared - {layout.places[pole] for pole in wiring.poles}, (one, other)


def test_dead_wires_are_dashed_live_ones_thicker_and_shorted_ones_thickest():
    dead = group(drawn(f"{CROSSED}, centre off", ["centre"]), "jumper switch common 1 to A")[0]
    live = group(drawn(CROSSED, ["down"]), "jumper switch up 1 to switch down 2 live")[0]
    shorted = group(drawn(STRAIGHT, ["down"]), "jumper switch up 1 to switch down 1 shorted")[0]
    assert dead.get("stroke-dasharray")
    assert not live.get("stroke-dasharray")
    widths = [float(each.get("stroke-width")) for each in (dead, live, shorted)]
    assert widths == sorted(set(widths))
    assert "wire A on no pole" in words(drawn(f"{CROSSED}, centre off", ["centre"]))
    assert "short circuit" in drawn(STRAIGHT, ["down"]).sentence


def test_the_resistor_is_in_wire_b_or_before_the_switch():
    behind, before = (drawn(CROSSED, ["up"], resistor_first=first) for first in (False, True))
    xs = [float(group(each, "resistor")[0].get("d").split(",")[0].lstrip("M ")) for each in (before, behind)]
    assert xs[0] < layout_of(wirings[CROSSED]).places["switch up 1"][0] < xs[1]
    assert RESISTOR_FIRST not in before.sentence
    assert RESISTOR_FIRST in drawn("four-switch bridge", ["closed"] * 4, resistor_first=True).sentence
    assert said(reversing(CROSSED).states["down",]) == "With switch down: green lights (wire A on − and wire B on +)."


def test_what_has_no_drawing_is_refused():
    with pytest.raises(DesignError, match="has no drawing"):
        layout_of(wirings[SHARED])


@pytest.mark.parametrize(
    ("name", "position", "says"),
    [
        (CROSSED, "up", "Red lights: wire A on +, wire B on −."),
        (CROSSED, "down", "Green lights: wire A on −, wire B on +."),
        ("straight instead of crossed", "down", "Red lights in every position: nothing turns the current round."),
        (STRAIGHT, "down", "Short circuit: only the source limits the current: switch off."),
        ("double-pole single-throw switch", "off", "Both lamps are dark: no current flows."),
    ],
)
def test_a_wall_is_told_which_lamp_lights_and_what_is_wrong(name, position, says):
    assert reversing_brief(wirings[name], reversing(name).states[(position,)]) == says
