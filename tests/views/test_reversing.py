"""The drawing of a reversing wiring: what is joined on paper is joined in the wiring, and a short circuit is marked."""

import itertools
from dataclasses import replace

import pytest

from sigcalc.design.pair.reversing import RESISTOR_FIRST
from sigcalc.design.pair.wiring import all_positions, show
from sigcalc.errors import DesignError
from sigcalc.parts.contacts import wirings
from sigcalc.views.reversing import reversing_circuit, said
from sigcalc.views.style import LARGE, lamp_fill
from sigcalc.views.wiring_layout import layout_of
from tests.views.svg import fills, group, groups, parse, texts, view_box, words

ONE_SIGNAL = [name for name, each in wirings.items() if len(each.signals) == 1]
CROSSED = wirings["crossed double-throw switch"]


def drawn(wiring, position, **more):
    closed = wiring.closed(all_positions(wiring)[position])
    return reversing_circuit(wiring, closed, show(wiring, closed, position), **more)


def cases():
    return [(name, position) for name in ONE_SIGNAL for position in all_positions(wirings[name])]


@pytest.mark.parametrize(("name", "position"), cases())
def test_which_lamp_is_lit_is_seen_in_fill_words_and_sentence(name, position):
    wiring = wirings[name]
    shown = show(wiring, wiring.closed(all_positions(wiring)[position]), position)
    picture = drawn(wiring, position)
    for lamp in ("red", "green"):
        lit = lamp in shown.lamps
        assert (lamp_fill(lamp).lower() in fills(group(picture, f"led {lamp} {'lit' if lit else 'dark'}"))) == lit
        assert (f"{lamp.upper()} ON" in " ".join(words(picture))) == lit
    assert position in picture.sentence
    assert bool(groups(picture, "short circuit")) == shown.short == ("SHORT CIRCUIT" in words(picture))


@pytest.mark.parametrize(("name", "position"), cases())
def test_contacts_stand_where_the_position_puts_them(name, position):
    wiring = wirings[name]
    closed = set(wiring.closed(all_positions(wiring)[position]))
    for contact in layout_of(wiring).contacts:
        on = [throw for throw in contact.throws if (contact.common, throw) in closed]
        assert groups(drawn(wiring, position), f"contact {contact.common} {'on ' + on[0] if on else 'open'}")


@pytest.mark.parametrize("name", ONE_SIGNAL)
def test_every_jumper_is_drawn_from_end_to_end(name):
    wiring, position = wirings[name], next(iter(all_positions(wirings[name])))
    layout, picture = layout_of(wiring), drawn(wiring, position)
    assert len(set(layout.places.values())) == len(wiring.points) == len(layout.places)
    for first, second in wiring.jumpers:
        (line,) = group(picture, f"jumper {first} to {second} ").iter("{http://www.w3.org/2000/svg}polyline")
        corners = [tuple(map(float, pair.split(","))) for pair in line.get("points").split()]
        assert (corners[0], corners[-1]) == (layout.places[first], layout.places[second])


@pytest.mark.parametrize("name", ONE_SIGNAL)
def test_places_joined_by_touching_lines_are_joined_in_the_wiring(name):
    """No two jumpers of different groups share a corner or run over each other's end."""
    wiring = wirings[name]
    layout = layout_of(wiring)
    for one, other in itertools.combinations(wiring.jumpers, 2):
        if set(one) & set(other):
            continue
        shared = set(layout.route(*one)) & set(layout.route(*other))
        rails = {layout.places[pole] for pole in wiring.poles}
        assert not shared - rails, (one, other)


def test_live_wires_are_thicker_than_dead_ones_which_are_dashed():
    picture = drawn(wirings["crossed double-throw switch, centre off"], "switch centre")
    (dead,) = group(picture, "jumper switch common 1 to A")
    (live,) = group(picture, "jumper + to switch up 1")
    assert dead.get("stroke-dasharray")
    assert not live.get("stroke-dasharray")
    assert float(live.get("stroke-width")) > float(dead.get("stroke-width"))
    assert "wire A on no pole" in words(picture)


def test_a_wrong_jumper_is_drawn_where_it_sits_and_shorts():
    straight = {("switch up 1", "switch down 2"): ("switch up 1", "switch down 1")}
    wrong = replace(CROSSED, jumpers=tuple(straight.get(each, each) for each in CROSSED.jumpers))
    picture = drawn(wrong, "switch down")
    (shorted,) = group(picture, "jumper switch up 1 to switch down 1 shorted")
    (sound,) = group(drawn(CROSSED, "switch down"), "jumper switch up 1 to switch down 2 live")
    assert float(shorted.get("stroke-width")) > float(sound.get("stroke-width"))
    assert "SHORT CIRCUIT" in words(picture)
    assert "short circuit" in picture.sentence


def test_the_resistor_stands_in_wire_b_or_before_the_switch():
    behind, before = (drawn(CROSSED, "switch up", resistor_first=first) for first in (False, True))
    assert parse(behind).find(".//*[@class='resistor']") is not None
    xs = [float(group(each, "resistor")[0].get("d").split(",")[0].lstrip("M ")) for each in (before, behind)]
    assert xs[0] < layout_of(CROSSED).places["switch up 1"][0] < xs[1]
    assert RESISTOR_FIRST not in before.sentence
    shorted = drawn(
        wirings["four-switch bridge"], list(all_positions(wirings["four-switch bridge"]))[-1], resistor_first=True
    )
    assert RESISTOR_FIRST in shorted.sentence


@pytest.mark.parametrize(("name", "position"), cases())
@pytest.mark.parametrize("first", [False, True])
def test_text_is_legible_on_the_sheet_and_over_nothing(name, position, first):
    picture = drawn(wirings[name], position, resistor_first=first)
    left, top, width, height = view_box(parse(picture))
    for one in texts(picture):
        assert one.size >= 12
        assert left <= one.left < one.right <= left + width, one
        assert top <= one.top < one.bottom <= top + height, one
    for one, other in itertools.combinations(texts(picture), 2):
        assert not one.overlaps(other), f"{one} / {other}"


def test_large_type_is_the_same_drawing_and_the_text_alternative_is_the_sentence():
    normal, large = (drawn(CROSSED, "switch up", **more) for more in ({}, {"size": LARGE}))
    assert normal.svg.partition(">")[2] == large.svg.partition(">")[2]
    assert parse(normal).get("aria-label") == normal.sentence == large.sentence


def test_the_words_are_those_of_the_drawing():
    shown = show(CROSSED, CROSSED.closed(["down"]), "switch down")
    assert said(shown) == "With switch down: green lights (wire A on − and wire B on +)."


@pytest.mark.parametrize("name", [name for name in wirings if name not in ONE_SIGNAL])
def test_a_wiring_without_a_drawing_is_refused(name):
    with pytest.raises(DesignError, match="has no drawing"):
        layout_of(wirings[name])


@pytest.mark.parametrize("name", ["crossed double-throw switch", "one changeover contact on a split supply"])
def test_the_position_stands_right_below_the_contacts(name):
    wiring = wirings[name]
    label, device = wiring.devices[0]
    position = f"{label} {device.positions[0].name}"
    words = next(one for one in texts(drawn(wiring, position)) if one.words == position)
    xs, ys = zip(*(layout_of(wiring).places[f"{label} {each}"] for each in device.terminals), strict=True)
    assert min(xs) - 40 < (words.left + words.right) / 2 < max(xs)
    assert 0 < words.top - max(ys) < 60
