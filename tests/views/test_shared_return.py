"""Two signals on their wires: lit lamps, poles in words, and the short circuit."""

import itertools

import pytest

from sigcalc.design.pair.wiring import all_positions, show
from sigcalc.errors import DesignError
from sigcalc.parts.contacts import wirings
from sigcalc.views.shared_return import signals_on_wires
from sigcalc.views.style import lamp_fill
from tests.views.svg import fills, group, groups, parse, texts, view_box, words

TWO_SIGNALS = [name for name, each in wirings.items() if len(each.signals) == 2]
SHARED = "two signals, one supply, shared return"


def drawn(name, position):
    wiring = wirings[name]
    closed = wiring.closed(all_positions(wiring)[position])
    shown = show(wiring, closed, position)
    return signals_on_wires(wiring, shown), shown


def cases():
    return [(name, position) for name in TWO_SIGNALS for position in all_positions(wirings[name])]


@pytest.mark.parametrize(("name", "position"), cases())
def test_the_lit_lamps_and_the_short_circuit_are_shown(name, position):
    picture, shown = drawn(name, position)
    for signal, lamp in zip(shown.signals, shown.lamps, strict=True):
        lit = fills(group(picture, signal))
        wanted = [lamp_fill(lamp).lower()] if lamp in ("red", "green") else []
        assert [each for each in lit if each in (lamp_fill("red").lower(), lamp_fill("green").lower())] == wanted
    assert bool(groups(picture, "short circuit")) == shown.short
    assert len(groups(picture, "wire ")) == len({lead for _, *leads in wirings[name].signals for lead in leads})


@pytest.mark.parametrize(("name", "position"), cases())
def test_text_is_legible_on_the_sheet_and_over_nothing(name, position):
    picture, _ = drawn(name, position)
    left, top, width, height = view_box(parse(picture))
    for one in texts(picture):
        assert one.size >= 12
        assert left <= one.left < one.right <= left + width, one
        assert top <= one.top < one.bottom <= top + height, one
    for one, other in itertools.combinations(texts(picture), 2):
        assert not one.overlaps(other), f"{one} / {other}"


def test_a_shared_return_on_both_poles_is_named():
    picture, _ = drawn(SHARED, "switch 1 up, switch 2 down")
    assert "return on + and −" in words(picture)
    assert "SHORT CIRCUIT" in words(picture)


def test_a_signal_at_part_of_the_voltage_says_so():
    wiring = wirings[SHARED]
    # the return cut off: both signals in series between A1 on plus and A2 on minus
    closed = (("switch 1 common 1", "switch 1 up 1"), ("switch 2 common 1", "switch 2 down 1"))
    picture = signals_on_wires(wiring, show(wiring, closed, "return cut"))
    assert words(picture).count("at 0.5 of the voltage") == 2
    assert "return on no pole" in words(picture)


def test_one_signal_is_refused():
    wiring = wirings["crossed double-throw switch"]
    with pytest.raises(DesignError, match="two signals"):
        signals_on_wires(wiring, show(wiring, (), "open"))


@pytest.mark.parametrize("name", [each for each in TWO_SIGNALS if len(wirings[each].devices) == 2])
def test_each_switch_is_said_beside_the_wires_that_it_turns_round(name):
    picture, _ = drawn(name, "switch 1 up, switch 2 down")
    place = {one.words: (one.top + one.bottom) / 2 for one in texts(picture)}
    for said, signal in (("switch 1 up", "signal 1"), ("switch 2 down", "signal 2")):
        assert abs(place[said] - place[signal]) < 40
