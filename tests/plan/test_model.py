"""The plan's fields: what they take, and every fault with its place, all at once."""

import re

import pytest

from sigcalc import Plan, Q, leds
from sigcalc.errors import PlanError
from sigcalc.plan.section import section_of
from tests.plan.plans import FORMS

OWN = {"points": [["1.8 V", "2 mA"], ["1.95 V", "10 mA"]], "max_current": "20 mA"}


def faults(**fields):
    with pytest.raises(PlanError) as refusal:
        Plan(**fields)
    assert str(refusal.value) == "\n".join(refusal.value.faults)
    return refusal.value.faults


class TestValues:
    def test_a_plan_of_nothing_is_a_whole_plan_and_says_the_same_in_any_unit(self):
        plan = Plan()
        assert plan.red.part in leds
        assert plan.supply.part == "12 V regulated"
        assert plan.limits.max_current == Q("20 mA")  # common practice, no source: 20 mA is the ceiling
        for same in ({"current": Q(5, "mA")}, {"current": "0.005 A"}, {"tolerance": 0.05}, {"tolerance": "5 %"}):
            assert Plan(drive=same) == plan
        assert Plan(name="other") != plan != "a plan"
        with pytest.raises(TypeError):
            hash(plan)

    def test_a_value_keeps_the_unit_it_was_given_in(self):
        plan = Plan(mast={"height": "5 in", "top_lamp": "110 mm", "bottom_lamp": "3.5 in"})
        assert f"{plan.mast.height}" == "5 in"
        assert plan.mast.height == Q("127 mm")

    def test_changes_make_a_new_plan_with_all_checks(self):
        plan = Plan(name="a")
        changed = plan.with_changes(drive=plan.drive.with_changes(current="8 mA"))
        assert (changed.name, changed.drive.current, plan.drive.current) == ("a", Q("8 mA"), Q("5 mA"))
        with pytest.raises(ValueError, match="frozen"):
            plan.drive.current = "6 mA"
        for change in ({"height": "-1 m"}, {"heigth": "1 m"}, {"height": None}, {"self": 1}):
            with pytest.raises(PlanError, match=r"^(height|heigth|self)(:| needs) "):
                plan.mast.with_changes(**change)

    def test_own_points_of_an_led(self):
        more = {"drop_above": "0.2 V", "intensity": "20 mcd", "intensity_current": "10 mA"}
        led = Plan(red=OWN | more).red.led("red")
        assert (led.name, led.colour, led.max_current, led.drop_above) == ("own red LED", "red", Q("20 mA"), Q("0.2 V"))
        assert led.voltage("10 mA", temperature="25 degC").to("V").magnitude == pytest.approx(1.95, abs=3e-3)
        assert led.model.fit.assumed == ("ideality", "series_resistance")

    @pytest.mark.parametrize(
        ("supply", "corners", "depends_on"),
        [
            ({"part": "12 V regulated"}, (11.4, 12, 12.6), "the adapter's tolerance"),
            ({"tolerance": "1 %"}, (11.88, 12, 12.12), "the tolerance you give"),
            ({"kind": "battery"}, (9.2, 9.5, 9.7), "how fresh the battery is"),
            ({"voltage": "10 V"}, (9.5, 10, 10.5), "5 % taken for granted, as none is given"),
            ({"voltage": "10 V", "tolerance": 0}, (10, 10, 10), "the tolerance you give"),
        ],
    )
    def test_corners_of_the_supply(self, supply, corners, depends_on):
        made = Plan(supply=supply).supply
        assert made.corners() == pytest.approx(corners)
        assert made.depends_on == depends_on

    def test_names_that_need_joiners_or_other_scripts_are_welcome(self):
        for name in ("信号 3", "می\u200cخواهم", "Gleis 1 <–> 2"):
            assert Plan(name=name).name == name


LAMPS = [
    ({}, "red needs the name of a part, or your own points and max_current"),
    ({"max_current": "20 mA", "points": []}, "red needs the name of a part, or your own points"),
    (OWN | {"part": "white 3 mm"}, "red.part: 'white 3 mm' is named, and points, max_current given"),
    ({"part": "bright rad 3 mm"}, "red.part: LED 'bright rad 3 mm' is not known; use one of: 'bright red"),
    (OWN | {"points": [["2 V", "10 mA"], ["1.9 V", "20 mA"]]}, "red: points: the voltage falls to 1.9 V"),
    (OWN | {"points": [["20 mA", "2 mA"]]}, "red.points.0.0 needs a voltage"),
    (OWN | {"points": [["2 V"]]}, "red.points.0.1 needs two texts, a voltage and a current"),
    (OWN | {"points": "2 V, 20 mA"}, "red.points needs a list in square brackets"),
    (OWN | {"intensity": "5 mcd"}, "red: intensity of own red LED needs intensity_current beside it"),
    (OWN | {"max_current": "0 mA"}, "red.max_current needs a current from 1 nA to 10 A"),
    (OWN | {"points": [["5.5 V", "1 mA"]]}, "red: points: the nearest curve needs a saturation current"),
    ("low-current red 3 mm", "red needs a section of its own, headed by its name in square brackets"),
]
SECTIONS = [
    ({"lamps": {"top": "red"}}, 'lamps: top and bottom are both "red"'),
    ({"lamps": {"top": "blue"}}, "lamps.top needs to be 'red' or 'green'; you gave 'blue'"),
    ({"supply": {"part": "12 V"}}, "supply.part: adapter '12 V' is not known; use one of: '12 V regulated'"),
    ({"supply": {"part": "9 V alkaline"}}, "supply.part: '9 V alkaline' is of another kind; choose the kind "),
    ({"supply": {"part": "9 V regulated", "voltage": "9 V"}}, "supply: part and voltage are both given"),
    ({"supply": {"part": None}}, "supply: neither part nor voltage is given; name a part"),
    ({"supply": {"voltage": "-9 V"}}, "supply.voltage needs to be above zero; you gave -9 V; turn the meter"),
    ({"supply": {"tolerance": "80 %"}}, "supply.tolerance needs a tolerance from 0 % to 50 %"),
    ({"drive": {"current": "20 ma"}}, "drive.current needs a current with its unit; you gave '20 ma'; capital"),
    ({"drive": {"series": "E13"}}, "drive.series: series 'E13' is not known"),
    ({"drive": {"drawer": []}}, "drive.drawer needs one or more resistances above zero"),
    ({"drive": {"drawer": ["1 kohm"] * 1001}}, "drive.drawer needs 1000 values at most; you gave 1001"),
    ({"drive": {"drawer": ["470 ohm", "1 V"]}}, "drive.drawer.1 needs a resistance, for example"),
    ({"drive": {"drawer": ["470 ohm"], "resistance": "1 kohm"}}, "drive: resistance and drawer are both given"),
    ({"wiring": {"extra_red": "100 ohm"}}, 'wiring.extra_red: it has no place in the form "one shared resistor"'),
    ({"wiring": {"series_diodes": "yes"}}, "wiring.series_diodes needs true or false, without quotes"),
    ({"mast": {"top_lamp": "140 mm"}}, "mast: bottom_lamp, top_lamp and height need to rise in this order"),
    ({"mast": {"bottom_lamp": "114 mm"}}, "mast.bottom_lamp needs room for lamps 3.15 mm thick"),
    ({"limits": {"unevenness": 1}}, "limits.unevenness needs to be greater than 1; you gave 1"),
    ({"limits": {"unevenness": "much"}}, "limits.unevenness needs a number, without quotes; you gave 'much'"),
    ({"name": "  "}, "name needs a text; you gave only blanks"),
    ({"name": "x" * 81}, "name needs 80 characters at most; you gave 'xxx"),
    ({"name": 5}, "name needs a text in quotes; you gave 5"),
    ({"name": 10**5000}, "name needs a text in quotes; you gave something of type int that cannot be written"),
    ({"name": "a\nb"}, "name needs a line of plain text; you gave one with '\\n' in it; take that character out"),
    ({"name": "a\u202eb"}, "name needs a line of plain text; you gave one with '\\u202e'"),
    ({"scale": "O"}, "scale: scale 'O' stands for"),
    ({"scale": "1:0"}, "scale needs"),
    ({"drive": {"resistance": "1 kohm"}, "wiring": {"form": "one in each branch"}}, "drive.resistance: it is shared"),
    ({"suply": {}}, "suply: no field of a plan; did you mean 'supply'?"),
    ({"limits": {"q": 1}}, "limits.q: no field of a plan; the fields here are max_current, ambient, unevenness"),
    ({"_document": 1}, "_document: no field of a plan"),
    ({"a\n<b>": 1}, "'a\\n<b>': no field of a plan"),
    ({"x" * 500: 1}, "x" * 59 + "…: no field of a plan"),
]


TRIP = {"voltage": "9 V", "no_load_voltage": "13 V", "max_current": "1 A"}
DRIVES = [
    ({"kind": "regulator"}, 'a regulator needs either part (such as "lm317l") or reference_voltage'),
    ({"kind": "regulator", "part": "1n5314"}, ".part: '1n5314' is of another kind; choose"),
    ({"kind": "regulator", "part": "lm318"}, ".part: regulator 'lm318'"),
    ({"kind": "regulator", "part": "lm317", "resistance": "0 ohm"}, ".resistance needs to be above"),
    ({"part": "lm317"}, '.part: it has no place where the kind is "resistor"'),
]
SUPPLIES = [
    ({"voltage": "9 V", "no_load_voltage": "13 V"}, ".no_load_voltage needs max_current beside it"),
    ({"part": "9 V regulated", "max_current": "1 A"}, ".max_current: it belongs to an adapter of your own"),
    (TRIP | {"no_load_voltage": "8 V"}, ".no_load_voltage needs to be at least the printed 9 V"),
    (TRIP | {"no_load_voltage": "28 V"}, "to twice that"),
    ({"voltage": "9 V", "max_current": "0 A"}, ".max_current needs more than 0 A"),
    ({"voltage": "9 V", "capacity": "1 Ah"}, ".capacity: it belongs to a battery named by its part"),
    ({"kind": "battery", "part": "9 V alkaline", "capacity": "0 Ah"}, ".capacity needs more than 0 Ah"),
]
EVENINGS = [
    ({"hours": "8 d"}, ".hours needs to be no longer than every (7 d); you gave 8 d"),
    ({"hours": "0 h"}, ".hours needs to be above zero"),
    ({"until": "3 mA"}, ".until needs a voltage or a share of the light"),
    ({"until": "150 %"}, ".until needs a voltage above zero or a share below 100 %"),
    ({"until": "half"}, ".until: "),
]
TRIGGERS = [
    ({"magnet": "8 x 3 mm disc, N35", "diameter": "5 mm"}, ".magnet: diameter is given as well"),
    ({"diameter": "5 mm"}, "needs the name of a magnet, or both diameter and length"),
    ({"diameter": "0 mm", "length": "2 mm"}, "diameter needs a length from 0.01 mm"),
    ({"speed": "0.2 m/s", "prototype_speed": "60 km/h"}, "needs either speed or prototype_speed"),
    ({"speed": "20 m/s"}, ".speed needs to be from 0.001 m/s to 10 m/s on the model"),
    ({"prototype_speed": "1 mm/s"}, ".prototype_speed needs"),
    ({"magnet_from_front": "2 m"}, ".magnet_from_front needs to be no more than train_length"),
]
TOGETHER = [
    ({"evening": {"relay": "9 V two-pole"}}, 'wiring.reversing: it is "hand switch", but a relay is named'),
    (FORMS["train"] | {"evening": {"relay": "9 V two-pole"}}, "trigger.relay: it is another one than that of the ev"),
]
EACH = {"red": LAMPS, "drive": DRIVES, "supply": SUPPLIES, "evening": EVENINGS, "trigger": TRIGGERS}
ROWS = [({section: fields}, said) for section, rows in EACH.items() for fields, said in rows]


@pytest.mark.parametrize(("fields", "said"), [*ROWS, *SECTIONS, *TOGETHER])
def test_what_a_field_does_not_take(fields, said):
    (found,) = faults(**fields)
    assert said in found
    assert found.startswith((said, *fields))


def test_all_faults_come_at_once_each_with_its_place():
    wrong = {
        "lamps": {"top": "red"},
        "green": {"points": [["2 V", "10 mA"], ["1 V", "20 mA"]], "max_current": "20 mA"},
        "red": {"part": "x"},
        "supply": {"part": "12 V", "volts": 3},
        "drive": {"kind": "switch", "current": "5", "series": "E13", "tolerance": 2},
        "wiring": {"form": 1, "series_diodes": 0},
        "mast": {"height": "130", "lamp_hole": "y", "wire_hole": "z"},
        "limits": {"ambient": "hot", "unevenness": None},
    }
    found = faults(name=7, colour="blue", **wrong)
    within = [f"{section}.{name}" for section, fields in list(wrong.items())[2:] for name in fields]
    places = [re.split(r":| needs ", fault, maxsplit=1)[0] for fault in found]
    assert sorted(places) == sorted(["name", "colour", "lamps", "green", *within])


def test_every_field_is_described_and_every_optional_one_has_an_example():
    for name, info in Plan.model_fields.items():
        section = section_of(info.annotation)
        for field, inner in section.model_fields.items() if section else [(name, info)]:
            assert inner.description, (name, field)
            assert inner.default is not None or inner.examples, (name, field)
