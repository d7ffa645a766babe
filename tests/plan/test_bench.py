"""Parts, cuts, holes and steps: what a plan means at the bench."""

import re

import pytest

from sigcalc import Plan, Q, read_colour_bands
from sigcalc.views.sheet import build_sheet
from tests.plan.plans import FORMS, LAMPS

SHARED, EXTRA, OWN, DRIVER = (FORMS[each] for each in ("shared", "extra", "own", "driver"))


def study(**fields):
    return Plan(**LAMPS, **fields).study()


def parts(**fields):
    return {line.part: line for line in study(**fields).parts}


class TestParts:
    def test_a_resistor_s_value_bands_code_and_rating(self):
        made = study(**SHARED)
        line = {each.part: each for each in made.parts}["resistor, shared"]
        assert line.detail == "1.5 kΩ, 5 %, 1/4 W or more"
        assert read_colour_bands(bands=line.bands) == (Q("1.5 kohm"), 0.05)
        assert line.note.startswith("marked 1K5; at most ")
        # common practice, no source: twice the worst case
        worst = max(made.figures[f"{lamp}_shared_power"].most for lamp in ("red", "green"))
        assert worst <= 0.125 < 2 * worst <= 0.25
        assert "1/4 W" not in parts(**SHARED, limits={"ambient": "120 degC"})["resistor, shared"].detail
        odd = parts(drive={"resistance": "1234.5 ohm", "tolerance": "7 %"})["resistor, shared"]
        assert (odd.bands, "marked" in odd.note) == ((), False)  # no code can write it

    def test_a_close_resistor_is_listed_and_drawn_with_five_bands(self):
        made = study(drive={"resistance": "2.2 kohm", "tolerance": "1 %"})
        assert "red red black brown brown" in made.parts_csv()
        shown = re.sub("<[^>]*>", "", build_sheet(made))
        assert "bands red red black brown brown" in shown

    def test_two_out_of_the_drawer(self):
        made = study(drive={"current": "8 mA", "drawer": ["1 kohm", "330 ohm"]})
        lines = [line for line in made.parts if line.part == "resistor, shared, one of two in series"]
        assert [line.detail.split(",")[0] for line in lines] == ["1 kΩ", "330 Ω"]
        heats = [float(line.note.split("at most ")[1].split(" mW")[0]) for line in lines]
        together = max(made.figures[f"{lamp}_shared_power"].most for lamp in ("red", "green"))
        assert sum(heats) == pytest.approx(together * 1e3, rel=1e-2)
        assert heats[0] / heats[1] == pytest.approx(1000 / 330, rel=1e-2)  # in series heat goes by resistance

    def test_branch_resistors_diodes_relay_and_driver(self):
        found = parts(**EXTRA)
        assert found.keys() > {"red LED", "green LED", "double-pole double-throw switch", "wire", "sleeving"}
        assert found["supply"].detail == "12 V regulated adapter"
        assert found["resistor, red branch"].detail.startswith("47 Ω")
        assert "resistor, green branch" not in found
        found = parts(**OWN)
        assert (found["plain diode"].count, found["plain diode"].detail) == (2, "1N4148")
        assert found["flyback diode"].note == "across the relay's coil, ring towards plus"
        assert "relay with two changeover contacts" in found
        found = parts(**DRIVER)
        assert found["constant-current driver"].detail == "8 mA, 5 %, drop-out 1.5 V"
        assert not any(name.startswith("resistor") for name in found)


class TestCutsAndHoles:
    def test_the_wires_reach_from_the_terminal_to_the_lamps_and_enough_is_bought(self):
        mast = {"height": "130 mm", "top_lamp": "115 mm", "bottom_lamp": "95 mm"}
        made = study(mast=mast, wire={"distance": "600 mm", "slack": "50 mm"})
        mains = [cut for cut in made.cuts if cut.what.startswith("terminal")]
        # 600 + 50 + 95 mm, and 1/4 in stripped at each end
        assert [cut.length for cut in mains] == pytest.approx([0.745 + 2 * 0.00635] * 2)
        assert all(cut.strip == pytest.approx(0.00635) for cut in made.cuts)  # common practice, no source: 1/4 in
        assert {cut.colour for cut in mains} == {"orange", "blue"}
        bought = Q(next(line.detail for line in made.parts if line.part == "wire").split(", ")[1]).m_as("m")
        assert 1 < bought / sum(cut.length for cut in made.cuts) < 1.2

    def test_holes_as_the_plan_says_and_wires_in_theirs(self):
        assert study(mast={"lamp_hole": "3.2 mm", "wire_hole": "no. 30"}).drills == (
            ("upper lamp, 115 mm up", "3.2 mm"),
            ("lower lamp, 95 mm up", "3.2 mm"),
            ("wires down the mast", "no. 30"),
            ("pilot for each", "1.5 mm"),  # of the same kind as the lamps' drill
        )
        assert study().drills[-1] == ("pilot for each", "1/16 in")

        # common practice, no source: 3/32 in passes two 26 AWG wires, up to 1.19 mm over the insulation (this has 1.25)
        for hole, grade in (("3/32 in", "do not build"), ("7/64 in", "fine")):
            findings = study(mast={"wire_hole": hole}).findings
            assert [each.grade for each in findings if each.topic.startswith("wires thr")] == [grade]


class TestSteps:
    @pytest.mark.parametrize("form", FORMS)
    def test_dangers_have_a_caution_at_their_first_step_and_sleeving_is_on_before_the_iron_is(self, form):
        made = study(**FORMS[form])
        assert all(step.text.endswith(".") for step in made.steps)
        words = (
            "Try each LED",
            "Drill",
            "Strip",
            "Trim",
            "Slide sleeving",
            "Solder the",
            "Push the sleeving",
            "Measure the",
        )
        first = [next(n for n, step in enumerate(made.steps) if step.text.startswith(word)) for word in words]
        trim, sleeving, joint = first[3:6]
        assert first[:4] == sorted(first[:4])
        assert trim < joint
        assert sleeving < next(n for n, step in enumerate(made.steps) if "red anode to green cathode" in step.text)
        assert joint < first[6] < first[7]
        at_steps = [step.caution for step in made.steps if step.caution]
        assert len(at_steps) == len(set(at_steps))
        at_steps += [step.caution for step in made.trigger.steps] if made.trigger else []
        heeded = [each for each in made.cautions if each.topic != "leaking"]  # that is for the cupboard
        assert [each.topic for each in heeded if not any(each.text in step for step in at_steps)] == []
        assert "marked" not in made.steps[first[0]].text
        assert "longer lead: that is the anode" in " ".join(step.text for step in made.steps[:trim])

    def test_lamps_whose_leads_reach_each_other_need_no_wire_between(self):
        apart, close = (study(mast={"bottom_lamp": each}).steps for each in ("95 mm", "104 mm"))
        assert any("short wires between the lamps" in step.text for step in apart)
        assert not any("short wires" in step.text for step in close)
        assert any(step.text.startswith("Solder the LEDs back to back") for step in close)

    def test_the_resistor_is_where_the_readings_count_it(self):
        made = study(**SHARED)
        assert any(
            "shared resistor into the supply's plus lead, ahead of the hand switch" in s.text for s in made.steps
        )
        shown = {each.name: each for each in made.bench_test.readings}
        assert shown["shared resistor, red"].where == "across the shared resistor, red probe towards the supply's plus"
        assert shown["wire A, red"].expected.most < shown["supply, red"].expected.least / 2  # behind the resistor

    def test_only_what_the_circuit_holds_is_put_in(self):
        upside_down = {"lamps": {"top": "red", "bottom": "green"}}
        for form, there, missing in (
            (SHARED, ["shared resistor"], ["branch's resistor", "diode"]),
            (EXTRA, ["red branch's resistor of 47 Ω to the red LED's cathode"], ["green branch's resistor"]),
            (OWN, ["Solder a diode to each LED's anode", "relay crosswise"], ["shared resistor"]),
            (DRIVER, ["driver into the supply's plus lead"], ["resistor"]),
            (upside_down, ["Put the red LED into the upper hole"], []),
        ):
            text = " ".join(step.text for step in study(**form).steps)
            assert all(each in text for each in there)
            assert not any(each in text for each in missing)

    def test_enamelled_wire_is_not_burnt_bare(self):
        steps = study(wire={"part": "30 AWG enamelled"}).steps
        (cut,) = [each for each in steps if each.text.startswith("Cut the")]
        assert "flame" in cut.caution
