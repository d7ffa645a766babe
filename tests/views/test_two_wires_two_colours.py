"""Pictures of the lesson on two wires: paper and wiring join the same points, and bars are as long as light."""

import itertools

import numpy as np
import pytest

from sigcalc.design.pair.brightness import compare_brightness
from sigcalc.design.pair.wiring import RESISTOR_FIRST, reversing, show, wirings
from sigcalc.errors import DesignError
from sigcalc.views.style import lamp_fill
from sigcalc.views.two_wires_two_colours import (
    brightness_bars,
    layout_of,
    reversing_circuit,
    said,
    signals_on_wires,
    timeline,
)
from tests.views.samples import ALTERNATIONS, GREEN
from tests.views.samples import OLD_RED as RED
from tests.views.svg import SVG, corners, fills, group, groups, spans, words

ONE_SIGNAL = [name for name, each in wirings.items() if len(each.signals) == 1]
TWO_SIGNALS = [name for name in wirings if name not in ONE_SIGNAL]
CROSSED = "crossed double-throw switch"
STRAIGHT = f"{CROSSED}, one jumper straight"
SHARED = "two signals, one supply, shared return"


def cases(names):
    return [(name, positions) for name in names for positions in reversing(name).states]


def drawn(name, positions, **more):
    wiring, shown = wirings[name], reversing(name).states[tuple(positions)]
    if name in TWO_SIGNALS:
        return signals_on_wires(wiring, shown)
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


@pytest.mark.parametrize(("name", "positions"), cases(TWO_SIGNALS))
def test_of_two_signals_the_lit_lamps_and_the_short_circuit_are_shown(name, positions):
    picture, shown = drawn(name, positions), reversing(name).states[positions]
    for signal, lamp in zip(shown.signals, shown.lamps, strict=True):
        for each in ("red", "green"):
            found = fills(group(picture, f"led {each} of {signal} {'lit' if each == lamp else 'dark'}"))
            assert (lamp_fill(each).lower() in found) == (each == lamp)
    assert bool(groups(picture, "short circuit")) == shown.short
    assert len(groups(picture, "wire ")) == len({lead for _, *leads in wirings[name].signals for lead in leads})
    if name == SHARED and shown.short:
        assert {"return on + and −", "SHORT CIRCUIT"} <= set(words(picture))


def test_what_has_no_drawing_is_refused():
    with pytest.raises(DesignError, match="has no drawing"):
        layout_of(wirings[SHARED])
    with pytest.raises(DesignError, match="two signals"):
        signals_on_wires(wirings[CROSSED], show(wirings[CROSSED], (), "open"))


def length(picture, lamp):
    ((start, end),) = spans(picture, lamp)
    return end - start


def test_bars_are_as_long_as_the_light_and_whiskers_span_what_bought_parts_give():
    evenness = compare_brightness(RED, GREEN, "10 mA", "5 mA")
    picture = brightness_bars(evenness)
    assert length(picture, "RED") / length(picture, "GREEN") == pytest.approx(evenness.ratio, rel=2e-3)
    # Vishay 83006: 13 mcd and 4 mcd at 10 mA
    assert {"13 mcd, 100 %", "2 mcd, 15 %"} <= set(words(picture))
    assert picture.sentence.startswith("Red has 6.5 times the light of green: red outshines the other. With bought")
    assert f"bought: {1e3 * evenness.si.red_light_min:.3g} mcd" in " ".join(words(picture))


def test_on_a_fixed_scale_a_bar_stays_while_the_other_lamp_is_dimmed():
    evenness = (compare_brightness(RED, GREEN, each, "10 mA") for each in ("20 mA", "5 mA"))
    bright, dimmed = (brightness_bars(each, 0.05) for each in evenness)
    assert length(bright, "RED") == pytest.approx(4 * length(dimmed, "RED"), rel=1e-3)
    assert length(bright, "GREEN") == pytest.approx(length(dimmed, "GREEN"))
    assert "light straight ahead in mcd" in words(bright)
    assert words(bright)[-3:] == words(dimmed)[-3:]
    picture = brightness_bars(compare_brightness(RED, GREEN, "20 mA", "20 mA"), full=0.013)
    assert "off the scale: 26 mcd, 100 %" in words(picture)


def test_the_rows_follow_the_currents_and_differ_in_their_line():
    result, picture = ALTERNATIONS["quick"], timeline(ALTERNATIONS["quick"])
    most = max(result.red.si.peak_current, result.green.si.peak_current)
    for lamp, dashed in (("red", False), ("green", True)):
        paths = [path for row in groups(picture, lamp.upper()) for path in row.iter(SVG + "path")]
        lines = [each for each in paths if "fill: none" in each.get("style", "")]
        curve = max(lines, key=lambda each: len(each.get("d")))
        assert ("stroke-dasharray" in curve.get("style")) == dashed
        heights = [float(each.split()[1]) for each in curve.get("d").replace("M", "L").split("L")[1:]]
        share = result.share(lamp).si.peak_current / most
        assert np.ptp(heights) == pytest.approx(84.0 * share, abs=0.1)


def test_the_cycle_has_its_length_and_a_dark_lamp_is_called_so():
    assert "one cycle, 16.7 ms" in words(timeline(ALTERNATIONS["AC"]))
    assert "one cycle, 5 ms" in words(timeline(ALTERNATIONS["quick"]))
    assert words(timeline(ALTERNATIONS["dark"])).count("dark") == 2
