"""Parts, cuts, holes and steps: what a plan means at the bench."""

import pytest

from sigcalc import Plan, Q, read_colour_bands
from sigcalc.plan.bench import PILOT
from sigcalc.views.sheet import build_sheet
from tests.plan.plans import QUILLHAVEN

LAMPS = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}
SHARED = {"drive": {"current": "8 mA"}}
EXTRA = {"drive": {"resistance": "680 ohm"}, "wiring": {"form": "shared and extra", "extra_red": "47 ohm"}}
OWN = {"wiring": {"form": "one in each branch", "series_diodes": True, "reversing": "relay"}}
DRIVER = {"drive": {"kind": "constant current", "current": "8 mA"}}
FORMS = pytest.mark.parametrize("fields", [SHARED, EXTRA, OWN, DRIVER], ids=["shared", "extra", "own", "driver"])


def study(**fields):
    return Plan(**LAMPS, **fields).study()


def parts(**fields):
    return {line.part: line for line in study(**fields).parts}


class TestParts:
    def test_the_usual_list(self):
        found = parts(**SHARED)
        assert list(found) == [
            *("red LED", "green LED", "resistor, shared", "double-pole double-throw switch"),
            *("wire", "sleeving", "supply"),
        ]
        assert found["red LED"].detail == "red alingap 3 mm"
        assert found["red LED"].note == "typical, not guaranteed"
        assert found["supply"].detail == "12 V regulated adapter"

    def test_a_resistor_s_value_bands_code_and_rating(self):
        line = parts(**SHARED)["resistor, shared"]
        assert line.detail == "1.5 kΩ, 5 %, 1/4 W or more"
        resistance, tolerance = read_colour_bands(bands=line.bands)
        assert (resistance, tolerance) == (Q("1.5 kohm"), 0.05)
        assert line.note.startswith("marked 1K5; at most ")

    def test_a_close_resistor_is_listed_and_drawn_with_five_bands(self):
        made = study(drive={"resistance": "2.2 kohm", "tolerance": "1 %"})
        (line,) = (each for each in made.parts if each.part == "resistor, shared")
        assert line.bands == ("red", "red", "black", "brown", "brown")
        assert "red red black brown brown" in made.parts_csv()
        assert "the bands are red, red, black, brown, brown" in build_sheet(made)

    def test_the_rating_bears_twice_the_worst_heat(self):
        # common practice, no source: twice the worst case
        made = study(**SHARED)
        worst = max(made.figures[f"{lamp}_shared_power"].most for lamp in ("red", "green"))
        assert worst <= 0.125 < 2 * worst <= 0.25
        assert "1/4 W or more" in next(line.detail for line in made.parts if line.part == "resistor, shared")

    def test_warm_air_asks_for_a_larger_body(self):
        cool, hot = (
            parts(**SHARED, limits={"ambient": ambient})["resistor, shared"].detail
            for ambient in ("25 degC", "120 degC")
        )
        assert "1/4 W" in cool
        assert "1/4 W" not in hot

    def test_extra_resistors_have_lines_of_their_own(self):
        found = parts(**EXTRA)
        assert found["resistor, red branch"].detail.startswith("47 Ω")
        assert "resistor, green branch" not in found

    def test_two_out_of_the_drawer(self):
        made = study(drive={"current": "8 mA", "drawer": ["1 kohm", "330 ohm"]})
        lines = [line for line in made.parts if line.part == "resistor, shared, one of two in series"]
        assert [line.detail.split(",")[0] for line in lines] == ["1 kΩ", "330 Ω"]
        heats = [float(line.note.split("at most ")[1].split(" mW")[0]) for line in lines]
        together = max(made.figures[f"{lamp}_shared_power"].most for lamp in ("red", "green"))
        assert sum(heats) == pytest.approx(together * 1e3, rel=1e-2)
        assert heats[0] / heats[1] == pytest.approx(1000 / 330, rel=1e-2)  # in series heat goes by resistance

    def test_a_value_that_no_code_can_write_goes_without_marks(self):
        line = parts(drive={"resistance": "1234.5 ohm", "tolerance": "7 %"})["resistor, shared"]
        assert line.bands == ()
        assert line.detail.startswith("1.23 kΩ, 7 %")
        assert "marked" not in line.note

    def test_diodes_relay_and_driver(self):
        found = parts(**OWN)
        assert (found["plain diode"].count, found["plain diode"].detail) == (2, "1N4148")
        assert found["flyback diode"].note == "across the relay's coil, ring towards plus"
        assert "relay with two changeover contacts" in found
        found = parts(**DRIVER)
        assert found["constant-current driver"].detail == "8 mA, 5 %, drop-out 1.5 V"
        assert not any(name.startswith("resistor") for name in found)

    def test_enough_wire_for_all_cuts(self):
        made = study(**SHARED)
        needed = sum(cut.length for cut in made.cuts)
        bought = Q(next(line.detail for line in made.parts if line.part == "wire").split(", ")[1]).m_as("m")
        assert needed < bought < 1.2 * needed


class TestCutsAndHoles:
    def test_the_wires_reach_from_the_terminal_to_the_lamps(self):
        made = study(
            mast={"height": "130 mm", "top_lamp": "115 mm", "bottom_lamp": "95 mm"},
            wire={"distance": "600 mm", "slack": "50 mm"},
        )
        mains = [cut for cut in made.cuts if cut.what.startswith("terminal")]
        assert len(mains) == 2
        # 600 + 50 + 95 mm, and 1/4 in stripped at each end
        assert all(cut.length == pytest.approx(0.745 + 2 * 0.00635) for cut in mains)
        assert all(cut.strip == pytest.approx(0.00635) for cut in made.cuts)  # common practice, no source: 1/4 in
        assert {cut.colour for cut in mains} == {"orange", "blue"}
        assert {cut.wire for cut in made.cuts} == {"26 AWG solid hook-up"}

    def test_holes_as_the_plan_says(self):
        made = study(mast={"lamp_hole": "3.2 mm", "wire_hole": "no. 30"})
        assert made.drills == (
            ("upper lamp, 115 mm up", "3.2 mm"),
            ("lower lamp, 95 mm up", "3.2 mm"),
            ("wires down the mast", "no. 30"),
            ("pilot for both", PILOT),
        )

    @pytest.mark.parametrize(("hole", "grade"), [("3/32 in", "do not build"), ("7/64 in", "fine")])
    def test_wires_in_their_hole(self, hole, grade):
        # common practice, no source: 3/32 in passes two 26 AWG wires, up to 1.19 mm over the insulation (this has 1.25)
        finding = next(each for each in study(mast={"wire_hole": hole}).findings if each.topic.startswith("wires thr"))
        assert finding.grade == grade


class TestSteps:
    @FORMS
    def test_each_says_something_and_dangers_have_a_caution(self, fields):
        steps = study(**fields).steps
        assert all(step.text.endswith(".") for step in steps)
        for word in ("Drill", "Solder", "Push the sleeving", "Try each LED"):
            first = next(step for step in steps if step.text.startswith(word))
            assert first.caution

    @FORMS
    def test_marking_comes_before_trimming_before_soldering(self, fields):
        texts = [step.text for step in study(**fields).steps]
        order = [
            next(i for i, text in enumerate(texts) if text.startswith(word)) for word in ("Mark", "Trim", "Solder")
        ]
        assert order == sorted(order)

    def test_only_what_the_circuit_holds_is_put_in(self):
        def said(**fields):
            return " ".join(step.text for step in study(**fields).steps)

        assert "shared resistor" in said(**SHARED)
        assert "branch's resistor" not in said(**SHARED)
        assert "red branch's resistor of 47 Ω" in said(**EXTRA)
        assert "green branch's resistor" not in said(**EXTRA)
        assert "shared resistor" not in said(**OWN)
        assert "Solder a diode to each LED's anode" in said(**OWN)
        assert "diode" not in said(**SHARED)
        assert "relay crosswise" in said(**OWN)
        assert "resistor" not in said(**DRIVER)
        assert "driver into the supply's plus lead" in said(**DRIVER)

    def test_the_lamps_stand_as_planned(self):
        texts = [step.text for step in study(lamps={"top": "red", "bottom": "green"}).steps]
        assert any(text.startswith("Set the red LED above the green one") for text in texts)


@pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
def test_the_layout_s_plans(path):
    made = Plan.load(path).study()
    assert made.grade != "do not build"
    assert made.plan.name.startswith("Quillhaven")
    assert len(made.steps) > 10


def test_enamelled_wire_is_not_burnt_bare():
    (cut,) = [each for each in Plan(wire={"part": "30 AWG enamelled"}).study().steps if each.text.startswith("Cut the")]
    assert "flame" in cut.caution
