"""Each fault's look and readings, and the faults that look all the same: the ties are listed here."""

import pytest

from sigcalc.design.bench.fault import NOTHING_WRONG, faults_of
from sigcalc.design.bench.faults import fault_views, first_signs, if_it_reads, look_alikes, view_of
from sigcalc.errors import UnitError, UnknownNameError
from tests.design.bench.circuits import NAMES, circuits

DRAWS = 400

# Faults that neither eye nor meter can tell apart, whatever is measured. Solder across either LED and bare wires that
# touch all put some tenths of an ohm across the pair: a few millivolts, which is the meter's own doubt. A resistor in a
# branch tells its LED from the other's; with more current (one-shot) the millivolts of the mast's wires just show.
TIES = {
    "resistor": {frozenset({"red LED shorted", "green LED shorted", "short at the mast hole"})},
    "mixed": {frozenset({"green LED shorted", "short at the mast hole"})},
    "driver": {frozenset({"red LED shorted", "green LED shorted", "short at the mast hole"})},
    "one-shot": {frozenset({"red LED shorted", "green LED shorted"})},
    "mosfet": set(),
}


@pytest.mark.parametrize("name", NAMES)
def test_the_ties(name):
    assert {frozenset(each) for each in look_alikes(circuits()[name], draws=DRAWS)} == TIES[name]


LOOKS = [
    ("nothing wrong", "red", "green"),
    ("both LEDs reversed", "green", "red"),
    ("red LED open", "none", "green"),
    ("short at the mast hole", "none", "none"),
    ("resistor ten times too large", "dim red", "dim green"),
    ("wires swapped", "green", "red"),
    ("plus jumper missing", "red", "none"),
    ("jumpers straight", "red", "red"),
    ("no supply", "none", "none"),
    ("supply reversed", "green", "red"),
    ("adapter gives AC", "both", "both"),
]


@pytest.mark.parametrize(("fault", "red", "green"), LOOKS)
def test_what_the_eye_sees(fault, red, green):
    view = view_of(fault_views(circuits()["resistor"], draws=DRAWS), fault)
    assert view.seen == {"red": red, "green": green}
    assert red in view.may_be_seen["red"]
    assert f"set for red: {red}" in view.sentence


@pytest.mark.parametrize(
    ("fault", "lit", "dark"), [("red LED reversed", "green", "red"), ("green LED reversed", "red", "green")]
)
def test_one_led_reversed(fault, lit, dark):
    """Both light in one position, unless the one with the lower drop takes all the current; neither in the other."""
    view = view_of(fault_views(circuits()["resistor"], draws=DRAWS), fault)
    assert set(view.may_be_seen[lit]) == {"both", "red"}
    assert view.seen[dark] == "none"


@pytest.mark.parametrize("name", NAMES)
def test_every_fault_is_shown_with_a_band_at_every_point(name):
    views = fault_views(circuits()[name], draws=DRAWS)
    assert [each.fault.name for each in views] == [each.name for each in faults_of(circuits()[name], pairs=False)]
    for view in views:
        for reading in view.readings.values():
            assert reading.least <= reading.most
            assert reading.text


def test_where_a_fault_gives_itself_away():
    views = fault_views(circuits()["resistor"], draws=DRAWS)
    sound = view_of(views, NOTHING_WRONG)
    assert if_it_reads(sound, sound) == ()
    assert "shared resistor ohms" in if_it_reads(view_of(views, "resistor ten times too large"), sound)
    broken = if_it_reads(view_of(views, "break in the mast"), sound)
    assert {"pair, red", "pair, green", "lamps, red"} <= set(broken)
    assert "supply open" not in broken


def test_fewer_points_leave_more_alike():
    all_points, none = (look_alikes(circuits()["resistor"], points, draws=DRAWS) for points in (None, []))
    assert sum(map(len, none)) > 3 * sum(map(len, all_points))


def test_refusals():
    with pytest.raises(UnknownNameError, match="measuring point 'pair'"):
        look_alikes(circuits()["resistor"], ["pair"])
    with pytest.raises(UnknownNameError, match="fault"):
        view_of(fault_views(circuits()["resistor"], draws=DRAWS), "gremlins")
    with pytest.raises(UnitError, match="circuit needs a BenchCircuit"):
        fault_views(None)


class TestFirstSigns:
    @pytest.mark.parametrize("name", NAMES)
    def test_each_fault_stands_once_at_the_first_point_that_shows_it(self, name):
        views = fault_views(circuits()[name], draws=DRAWS)
        signs = first_signs(views)
        said = {fault: sign for sign in signs for fault in sign.faults}
        assert len(said) == sum(len(sign.faults) for sign in signs)
        for view in views[1:]:
            shown = if_it_reads(view, views[0])
            assert bool(shown) == (view.fault.name in said)
            if shown:
                assert said[view.fault.name].point.name == shown[0]

    def test_readings_apart_stand_apart_and_the_commonest_comes_first(self):
        signs = first_signs(fault_views(circuits()["resistor"], draws=DRAWS))
        across = {sign.text: sign.faults for sign in signs if sign.point.name == "shared resistor, red"}
        assert across["0 V"][0] == "red LED reversed"
        full = [faults for faults in across.values() if "short at the mast hole" in faults]
        assert [set(each) for each in full] == [{"short at the mast hole", "red LED shorted", "green LED shorted"}]

    def test_a_clean_contact_s_millivolts_are_no_sign(self):
        """Ten times the current through a contact is millivolts, less than clean contacts differ by."""
        signs = first_signs(fault_views(circuits()["resistor"], draws=DRAWS))
        (sign,) = [each for each in signs if "resistor ten times too small" in each.faults]
        assert sign.point.name not in ("lead A, green", "lead B, red")
