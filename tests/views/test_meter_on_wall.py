"""The meter on the circuit as it is laid out for a wall: as on the page, with its faults, probes and lamps."""

import pytest

from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.fault import burnt, faults_of
from sigcalc.design.bench.reading import measuring_points
from sigcalc.views.find_the_fault import meter_picture, probes
from sigcalc.views.meter_on_wall import meter_on_wall
from sigcalc.views.style import STROKES
from tests.design.bench.circuits import circuits
from tests.views.svg import by_words, groups, words


@pytest.mark.parametrize("name", circuits())
def test_it_says_and_rings_what_the_page_does(name):
    circuit = circuits()[name]
    point = measuring_points(circuit)["pair, red"]
    for fault in faults_of(circuit):
        seen_at = circuit, point, "OL", "red", "none"
        drawn, page = meter_on_wall(*seen_at, fault), meter_picture(*seen_at, found=fault)
        assert drawn.sentence == page.sentence
        assert len(groups(drawn, "fault")) == len(groups(page, "fault"))
        assert list(burnt(circuit, fault)) == [lamp for lamp in LAMPS if groups(drawn, f"led {lamp} dead")]


@pytest.mark.parametrize("name", circuits())
def test_the_red_probe_is_at_the_first_letter_that_the_meter_names(name):
    circuit = circuits()[name]
    for point in measuring_points(circuit).values():
        drawn, (first, *_) = meter_on_wall(circuit, point, "1.9 V", "red", "red"), probes(point).split(" to ")
        assert "1.9 V" in words(drawn)
        if not first:
            continue
        flag = next(each for each in groups(drawn, "probes")[0] if each.get("fill") == STROKES["red"])
        x, y = map(float, flag.get("points").split()[0].split(","))
        letter = by_words(drawn, first)
        assert abs((letter.left + letter.right) / 2 - x) < 20
        assert abs((letter.top + letter.bottom) / 2 - y) < 24
