"""The talk's file: every fault at once with its place, strangers' texts are data, and what to bring."""

import csv
import io
import re

import pytest

from sigcalc import PlanError, SigcalcError, Talk
from tests.project.checkout import ROOT

READY = {path.stem: Talk.load(path) for path in sorted((ROOT / "notebooks" / "talks").glob("*.toml"))}

SCENE = '[[scene]]\nname = "{0}"\npanel = "why a resistor"\nminutes = 2 # at most\nquestion = "What happens?"\n'
HEAD = 'version = 1\nname = "One LED" # mine\n'
SMALL = HEAD + SCENE.format("first")


def talk(scene=None, **more):
    """A talk's data with one scene."""
    usual = {"name": "first", "panel": "why a resistor", "minutes": 2, "question": "What happens?"}
    return {"name": "One LED", "scene": [usual | (scene or {})]} | more


class TestFile:
    def test_what_is_written_is_read_again_as_it_was(self, tmp_path):
        settings = {"source": "9 V battery", "no resistor": True, "resistor": 470, "wanted": 2.5}
        first = talk(
            {
                "start": settings,
                "answer": {"no resistor": False},
                "cover": ["verdict"],
                "choices": ["it glows", "it dies"],
            },
            notes=["nothing is left out"],
            kit=[{"item": "LED", "each": 2, "once": 1}],
        )
        Talk(**first).save(tmp_path / "a.toml")
        again = Talk.load(tmp_path / "a.toml")
        assert again == Talk(**first)
        assert again.scene[0].start == settings
        assert isinstance(again.scene[0].start["no resistor"], bool)

    def test_its_own_notes_are_kept_where_scenes_change_places(self):
        made = Talk.parse(HEAD + SCENE.format("first") + SCENE.format("second"))
        longer = made.scene[1].with_changes(minutes=2.5)
        text = made.with_changes(scene=(longer, made.scene[0])).text()
        assert text.index("second") < text.index("first")
        assert "minutes = 2.5 # at most" in text
        assert Talk.parse(text).minutes == 4.5

    def test_all_faults_are_told_at_once(self):
        bad = (
            SMALL.replace("panel", "pannel").replace("= 2", "= '2'")
            + "start = { a = [1] }\n[[scene]]\nname = 'first'\n"
        )
        with pytest.raises(PlanError) as found:
            Talk.parse(bad + "[[kit]]\nitem = 'LED'\neach = -1\n")
        told = found.value.faults
        assert [each.split(" needs")[0].split(":")[0] for each in told] == [
            "scene 'first', panel",
            "scene 'first', minutes",
            "scene 'first', start.a",
            "scene 'first', pannel",
            "scene 'first', panel",
            "scene 'first', minutes",
            "scene 'first', question",
            "kit line no. 1, each",
            "scene 'first', name",
        ]
        assert "did you mean 'panel'?" in told[3]


REFUSED = [
    (talk(scene=None, name="x" * 81), "name needs 80 characters at most; you gave 81"),
    (talk({"question": "x" * 91}), "question needs 90 characters at most; you gave 91"),
    (talk({"choices": ["x"] * 5}), "choices needs 4 entries at most"),
    (talk({"choices": ["only one"]}), "choices needs two choices or more, or none"),
    (talk({"choices": ["x" * 25, "y"]}), "choices.0 needs 24 characters at most"),
    (talk({"cover": ["picture", "all"]}), "cover.1 needs to be 'verdict', 'picture' or 'sentence'; you gave 'all'"),
    (talk({"minutes": float("nan")}), "minutes needs to be"),
    (talk({"minutes": 0}), "minutes needs to be greater than 0"),
    (talk({"say": "\u202eback"}), "say needs a line of plain text"),
    (talk({"start": {"source": "9 V\nbattery"}}), "start.source needs a line of plain text"),
    (talk({"start": {"a\n": 1}}), "start.'a.n' needs a line of plain text"),
    (talk({"start": {"supply": float("inf")}}), "start.supply needs a number, a text in quotes, or true or false"),
    (talk({"start": 5}), "start needs a table in curly brackets; you gave 5"),
    (talk({"start": {str(each): 1 for each in range(21)}}), "start needs 20 entries at most"),
    (talk(scene=None, seats=True), "seats needs a whole number, without quotes"),
    (talk(scene=None, sead=3), "sead: no field of a talk; did you mean 'seats'?"),
    ({"name": "a", "scene": []}, "scene: a talk needs at least one scene"),
    ({"name": "a", "scene": 31 * talk()["scene"]}, "scene needs 30 entries at most"),
    (talk(scene=None, kit=[{"item": "LED"}, {"item": "LED"}]), "kit line no. 2, item: 'LED' is there already"),
]


@pytest.mark.parametrize(("data", "said"), REFUSED)
def test_what_breaks_the_rules_is_refused(data, said):
    with pytest.raises(PlanError, match=said):
        Talk(**data)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name = 'a'", "version: missing; give version = 1"),
        (SMALL.replace("= 1", "= 2"), "this file is of version 2"),
        (SMALL + "#" * 100_001, "too large or too deeply nested for a talk"),
        (b"version = 1", "file needs the text of a talk"),
    ],
)
def test_what_is_no_talk_is_refused(text, said):
    with pytest.raises(PlanError, match=said):
        Talk.parse(text)


class TestKit:
    made = Talk(**talk(kit=[{"item": "=LED, red", "each": 3, "once": 2}, {"item": "meter", "once": 1}], seats=7))

    def counts(self, *given):
        return [(each.seats, each.spare, each.once, each.count) for each in self.made.kit_list(*given).lines]

    def test_seats_spares_and_the_speaker_are_added(self):
        assert self.counts() == [(21, 3, 2, 26), (0, 0, 1, 1)]
        assert self.counts(30) == [(90, 9, 2, 101), (0, 0, 1, 1)]  # a tenth of ninety is nine and no more

    def test_one_at_least_is_spare_but_none_where_none_is_wanted(self):
        assert self.counts(1, 0.01)[0] == (3, 1, 2, 6)
        assert self.counts(1, "0 %")[0] == (3, 0, 2, 5)

    def test_as_csv_its_prices_are_blank_and_no_item_is_a_formula(self):
        text = self.made.kit_list(30).csv()
        assert text.startswith("\ufeff")
        head, led, meter = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
        assert head[-2:] == ["price each", "price"]
        assert led == ["'=LED, red", "101", "90", "9", "2", "", ""]
        assert meter[:2] == ["meter", "1"]

    @pytest.mark.parametrize("given", [{"seats": 0}, {"seats": 2.5}, {"seats": "20"}, {"spares": 2}, {"spares": "a"}])
    def test_what_is_no_number_of_seats_or_spares_is_refused(self, given):
        with pytest.raises(SigcalcError, match="needs"):
            self.made.kit_list(**given)


def test_it_is_one_line_and_on_a_page_a_table_of_scenes():
    made = Talk(**talk({"question": "Why <b>?"}))
    assert str(made) == repr(made) == "Talk One LED: one scene, 2 min, for newcomers"
    assert "Why &lt;b&gt;?" in made._repr_html_()


class TestReadyTalks:
    def test_they_take_the_minutes_they_promise(self):
        assert {name: each.minutes for name, each in READY.items()} == {
            "battery_or_adapter": 10,
            "first_evening": 15,
            "passing_train": 15,
        }

    @pytest.mark.parametrize("name", READY)
    def test_reasons_and_lines_leave_the_figures_to_the_panels(self, name):
        for scene in READY[name].scene:
            assert not re.search(r"\d", f"{scene.because} {scene.say} {scene.take_home}")

    @pytest.mark.parametrize("name", READY)
    def test_every_scene_has_something_for_everybody(self, name):
        assert all(each.choices and each.because and each.say and each.bench for each in READY[name].scene)
        assert any(line.once for line in READY[name].kit)
