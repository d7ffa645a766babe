"""The plan's file: what survives a save, what is refused and where, and what happens to the old file."""

import os
import re
import stat
import tomllib
from copy import deepcopy
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sigcalc import Plan, Q
from sigcalc.errors import PlanError
from sigcalc.plan.file import plain
from sigcalc.plan.section import section_of
from tests.plan.plans import ANYTHING, QUILLHAVEN, answer_or_refusal, fields, plans

BUILDER_S_OWN = """\
# Notes of the builder: trimmed the base on 3 May.
version = 1
name    =   'Quillhaven "yard"'     # odd spacing, and quotes inside

scale="1:48"
[supply]   # the box under the yard
  kind = "battery"
  part = "6 x AA alkaline"  # cells from the shop, checked with the meter


[drive]
# the green one is dim; do not go below this
current = "0.008 A"
tolerance = 0.05
drawer = [
    "470 ohm",   # two of these
    "680 ohm", "1k2",
]

# The rest is as usual.
[limits]
unevenness = 3
"""


def faults(text):
    with pytest.raises(PlanError) as refusal:
        Plan.parse(text)
    return refusal.value.faults


def changed(text, section, **fields):
    """The text after a change to one section."""
    plan = Plan.parse(text)
    after = plan.with_changes(**{section: getattr(plan, section).with_changes(**fields)})
    assert Plan.parse(after.text()) == after
    return after.text()


class TestRoundTrip:
    @pytest.mark.parametrize("ending", ["\n", "\r\n"])
    def test_saved_as_it_was_loaded_not_a_byte_changes(self, tmp_path, ending):
        path = tmp_path / "a.toml"
        held = BUILDER_S_OWN.replace("\n", ending).encode()
        path.write_bytes(held)
        plan = Plan.load(path)
        plan.save(path)
        assert path.read_bytes() == held
        plan.with_changes(name="other").save(tmp_path / "b.toml")
        assert (tmp_path / "b.toml").read_bytes() == held.replace(b"'Quillhaven \"yard\"'", b'"other"')

    def test_only_what_changed_changes_and_keeps_the_note_behind_it(self):
        assert changed(BUILDER_S_OWN, "drive", current="6 mA") == BUILDER_S_OWN.replace('"0.008 A"', '"6 mA"')
        assert changed(BUILDER_S_OWN, "drive", current="8 mA", tolerance="5 %") == BUILDER_S_OWN
        text = changed(BUILDER_S_OWN, "supply", part="9 V lithium")
        assert text == BUILDER_S_OWN.replace("6 x AA alkaline", "9 V lithium")
        text = "version = 1\n[wiring]\nseries_diodes = false  # none at hand\n"
        assert changed(text, "wiring", series_diodes=True) == text.replace("false", "true")

    def test_a_new_value_comes_with_its_description_and_a_new_section_at_the_end(self):
        text = changed(changed(BUILDER_S_OWN, "supply", tolerance="2 %"), "mast", height="140 mm")
        assert 'tolerance = "2 %" # how far the voltage may be off\n' in text
        assert text.index("[supply]") < text.index('tolerance = "2 %"') < text.index("[drive]")
        assert re.search(r'\[mast\]\nheight = "140 mm" # from the baseboard', text)

    def test_a_value_taken_out_leaves_its_builder_s_note(self):
        text = changed(BUILDER_S_OWN, "supply", part=None, voltage="9.4 V")
        assert '# part = "6 x AA alkaline" # cells from the shop, checked with the meter' in text
        assert not re.search(r"^ *part = ", text, re.M)
        text = changed(Plan().text(), "supply", part=None, voltage="9.4 V")  # our own description is no loss
        assert not re.search(r"# part = .*adapter in the tables", text)

    def test_other_ways_of_writing_a_section(self):
        for lamps in (
            'lamps = {top = "green", bottom = "red"}  # inline',
            'lamps.top = "green"  # dotted\nscale = "1:48"\nlamps.bottom = "red"  # dotted',
            '["lamps"]\n"top" = "green"\nbottom = \'red\'',
        ):
            text = changed(f"version = 1\n{lamps}\n", "lamps", top="red", bottom="green")
            assert re.findall("# inline|# dotted", text) == re.findall("# inline|# dotted", lamps)

    def test_digits_that_count_are_kept_and_every_unit_is_written_in_one_that_has_a_sign(self):
        own = {"points": [["1.72 V", "1 mA"], [Q(1.92, "V"), "15 mA"]], "max_current": "20 mA"}
        drive = {"tolerance": 0.35, "current": Q(5.000000000000001, "mA"), "dropout": Q(1, "W") / Q(1, "A")}
        plan = Plan(mast={"height": Q(1 / 3, "m")}, drive=drive, red=own)
        assert Plan.parse(plan.text()) == plan
        assert 'points = [["1.72 V", "1 mA"], ["1.92 V", "15 mA"]]' in plan.text()
        assert 'dropout = "1 V"' in plan.text()

    def test_an_led_named_as_in_an_earlier_edition_is_saved_under_its_new_name(self):
        old = 'version = 1\n[red]\npart = "red alingap 3 mm"  # the bag by the window\n'
        plan = Plan.parse(old)
        assert plan.text() == old.replace("red alingap", "bright red")
        assert Plan.parse(plan.text()) == plan == Plan(red={"part": "bright red 3 mm"})

    @pytest.mark.parametrize("ending", ["\n", "\r\n"])
    def test_a_last_line_without_its_end_gets_one_as_the_others_have(self, ending):
        text = f'version = 1{ending}name = "post"'
        assert Plan.parse(text).text() == text + ending
        assert changed(text, "mast", height="140 mm").startswith(text + ending)

    def test_a_section_that_is_switched_off_stays_as_a_note(self):
        text = 'version = 1\n[evening] # every Friday\nhours = "3 h" # till ten\n# bring spare cells\n[limits]\n'
        off = Plan.parse(text).with_changes(evening=None).text()
        assert '# [evening] # every Friday\n#   hours = "3 h" # till ten\n#   # bring spare cells\n' in off
        assert Plan.parse(off).evening is None
        off = Plan.parse('version = 1\nevening = {hours = "3 h"}  # every Friday\n').with_changes(evening=None).text()
        assert '# evening = {hours = "3 h"} # every Friday\n' in off

    @pytest.mark.parametrize("printed", ["\u00b5", "\u03bc"])
    def test_either_micro_sign_is_read_and_one_is_written_whatever_pint_prints(self, monkeypatch, printed):
        unit = type(Q("1 V").units)
        print_unit = unit.__format__
        monkeypatch.setattr(unit, "__format__", lambda *given: print_unit(*given).replace("\u00b5", printed))
        assert plain(Q(f"100 {printed}F")) == "100 \u00b5F"


class TestNewFile:
    def test_it_names_every_field_with_its_description(self):
        text = Plan().text()
        assert len(text) * 10 < Plan.most_bytes
        for name, info in Plan.model_fields.items():
            inner = section_of(info.annotation)
            if inner is None:
                assert f"\n{name} = " in text
                continue
            section = re.split(rf"^(?:# )?\[{name}\].*\n", text, flags=re.M)[1].split("\n\n")[0]
            for field, each in inner.model_fields.items():
                assert re.search(rf"^(# +)*{field} = .+ # {re.escape(each.description)}$", section, re.M), (name, field)

    def test_each_noted_field_can_be_made_to_count(self):
        text = Plan().text()
        for note in re.finditer(r"^# (?=\w+ = )", text, re.M):
            counted = text[: note.start()] + text[note.end() :]
            tomllib.loads(counted)
            _, found = answer_or_refusal(lambda text=counted: Plan.parse(text))
            assert not re.search("no field of a plan|unit", str(found))  # two ways to say the same are one too many


class TestReading:
    def test_a_mark_in_front_of_the_text_is_no_fault(self, tmp_path):
        (tmp_path / "a.toml").write_text("\ufeff" + BUILDER_S_OWN, encoding="utf-8")
        assert Plan.load(tmp_path / "a.toml") == Plan.parse(BUILDER_S_OWN) == Plan.parse("\ufeff" + BUILDER_S_OWN)

    def test_a_missing_version_is_said_beside_all_other_faults_and_of_many_twenty_are_said(self):
        found = faults('name = ""\n[drive]\ncurrent = 5\n')
        assert found[0] == "version: missing; give version = 1 in the first line"
        assert [re.split(r":| needs ", each)[0] for each in found] == ["version", "name", "drive.current"]
        found = faults("".join(f"a{number} = 1\n" for number in range(5000)))
        assert (len(found), found[-1]) == (21, "and 4981 more")

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("version = 2\nnew = 1\n", "version: this file is of version 2, and this library reads up to 1; update"),
            ("version = 0x" + "f" * 9999, "version: this file is of version "),
            ('version = "1"', "version needs the number 1, without quotes; you gave '1'"),
            ("version = true", "version needs the number 1, without quotes; you gave True"),
            ("version = 1\n[drive]\ncurrent = 5 mA\n", "file: not readable as TOML: .* line 3"),
            ('version = 1\nname = "East home\n', "file: not readable as TOML: a text without its second quotation"),
            (b"version = 1", "file needs the text of a plan"),
            ("version = 1\n[drive]\ncurrent = 8\n", "drive.current needs a current with its unit, .*; you gave 8$"),
        ],
    )
    def test_what_is_no_plan(self, text, said):
        (found,) = faults(text)
        assert re.match(said, found)

    @pytest.mark.parametrize(
        "text",
        [
            "version = 1\nname = " + "[" * 5000,
            "version = 1\nname = " + "[\n" * 5000,
            "version = 1\nname = " + "{a=" * 5000,
            "version = 1\n" + ".".join(["a"] * 20_000) + " = 1",
            "version = 1\n[" + ".".join(['"a"'] * 20_000) + "]",
            "version = 1\nname = " + "9" * 5000,
            "version = 1\nname = 0x" + "f" * 50_000,
            "version = 1\n[drive]\ncurrent = 0x" + "f" * 50_000,
            "version = 1\n[drive]\ndrawer = [0x" + "f" * 50_000 + "]",
            "version = 1\nname = [" + "[" * 90 + "]" * 91,
            "\n".join(f"[k.a{i}]\n[j.a{i}]" for i in range(2000)),
            "a" * 99_000,
            '"' * 99_000,
            "x" * 100_001,
        ],
        ids=range(14),
    )
    def test_hostile_text_is_refused_at_once(self, text):
        assert all(len(fault) < 300 for fault in faults(text))

    @pytest.mark.parametrize(
        ("held", "said"),
        [
            ("version = 1\nname = 'é'".encode("latin-1"), "a.toml is not text in UTF-8; save it as UTF-8"),
            (b"#" * 100_001, "a.toml is too large for a plan"),
            (b"\x00\x01", "not readable as TOML"),
        ],
    )
    def test_files_that_are_no_plan(self, tmp_path, held, said):
        path = tmp_path / "a.toml"
        path.write_bytes(held)
        with pytest.raises(PlanError, match=said):
            Plan.load(path)

    def test_a_file_that_may_not_be_read(self, tmp_path, monkeypatch):
        Plan().save(tmp_path / "a.toml")
        monkeypatch.setattr(Path, "open", raises(OSError(13, "Permission denied")))
        with pytest.raises(PlanError, match="cannot be read: Permission denied"):
            Plan.load(tmp_path / "a.toml")


def raises(error):
    def raised(*_, **__):
        raise error

    return raised


class TestNames:
    @pytest.mark.parametrize(
        ("path", "said"),
        [
            ("none.toml", "cannot be read: No such file"),
            (".", "is no file"),
            pytest.param("/dev/zero", "is no file", marks=pytest.mark.skipif(os.name != "posix", reason="POSIX's")),
            ("a" * 251 + ".toml", "cannot be read"),
        ],
    )
    def test_what_cannot_be_read(self, tmp_path, path, said):
        with pytest.raises(PlanError, match=said):
            Plan.load(tmp_path / path)

    @pytest.mark.parametrize(
        ("path", "said"),
        [
            *((path, "file needs the name of a file") for path in (None, 5, "", "a\0b", ["a"])),
            ("~nobody-of-this-name/a.toml", "names the home folder of nobody here"),
            ("\ud800.toml", "a name without half characters"),
            ("x" * 5000, "cannot be read|too long"),
        ],
    )
    def test_names_that_are_none_are_told_in_short(self, path, said):
        for action in (Plan.load, Plan().save):
            with pytest.raises(PlanError, match=said) as refusal:
                action(path)
            assert len(str(refusal.value)) < 300

    def test_a_name_in_the_home_folder(self, tmp_path, monkeypatch):
        for name in ("HOME", "USERPROFILE"):
            monkeypatch.setenv(name, str(tmp_path))
        monkeypatch.chdir(tmp_path)
        Plan(name="mine").save("~/a.toml")
        assert Plan.load("~/a.toml").name == "mine"
        assert [each.name for each in tmp_path.iterdir()] == ["a.toml"]
        Plan(name="backup").save("~a.toml")  # no folder, just a name that begins so
        assert (tmp_path / "~a.toml").is_file()

    @pytest.mark.parametrize(
        "name",
        ["con", "NUL.toml", "Com1.x.toml", "lpt¹.toml", "aux .toml", "a?.toml", "a:b.toml", "a.toml.", "a ", "a\nb"],
    )
    def test_names_that_windows_keeps_for_itself_are_not_written(self, tmp_path, name):
        with pytest.raises(PlanError, match="cannot be a file's name on every computer"):
            Plan().save(tmp_path / name)
        assert not list(tmp_path.iterdir())

    @pytest.mark.parametrize("name", ["console.toml", "com10.toml", "my com1.toml", ".toml", "a.b.toml", "é" * 125])
    def test_names_that_only_look_like_those(self, tmp_path, name):
        Plan().save(tmp_path / name)
        assert Plan.load(tmp_path / name) == Plan()


NO_SPACE = OSError(28, "No space left on device")
UNTOUCHED = "cannot be written: No space left on device; the old file is untouched"


class TestSaving:
    @pytest.fixture
    def old(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_text(BUILDER_S_OWN, encoding="utf-8", newline="")
        return path

    @pytest.mark.parametrize(
        ("owner", "name", "fails", "said"),
        [
            *(
                (owner, name, NO_SPACE, UNTOUCHED)
                for owner, name in ((os, "fsync"), (Path, "replace"), (Path, "chmod"))
            ),
            (os, "fsync", KeyboardInterrupt(), "^$"),
        ],
    )
    def test_whatever_fails_the_old_file_is_whole_and_there_is_no_other(
        self, old, monkeypatch, owner, name, fails, said
    ):
        monkeypatch.setattr(owner, name, raises(fails))
        with pytest.raises((PlanError, KeyboardInterrupt), match=said):
            Plan(name="other").save(old)
        assert (old.read_bytes(), list(old.parent.iterdir())) == (BUILDER_S_OWN.encode(), [old])

    def test_what_could_not_be_read_again_is_not_written(self, old, monkeypatch):
        monkeypatch.setattr(Plan, "text", lambda _: "version = 1\n[supply]\npart = '9 V lithium'[mast]\n")
        with pytest.raises(PlanError, match="nothing was written, for what would be written could not be read again"):
            Plan(name="other").save(old)
        assert (old.read_bytes(), list(old.parent.iterdir())) == (BUILDER_S_OWN.encode(), [old])

    def test_the_new_file_is_whole_before_it_takes_the_old_one_s_place(self, old, monkeypatch):
        seen, replace = [], Path.replace

        def look(*paths):
            seen.extend(Path(each).read_text(encoding="utf-8") for each in paths)
            return replace(*paths)

        monkeypatch.setattr(Path, "replace", look)
        Plan(name="other").save(old)
        assert seen == [Plan(name="other").text(), BUILDER_S_OWN]

    @pytest.mark.skipif(os.name != "posix", reason="permissions, links and pipes of this kind are POSIX's")
    def test_permissions_links_and_pipes_stay_what_they_are(self, old, tmp_path):
        old.chmod(0o640)
        link, pipe, new = tmp_path / "link.toml", tmp_path / "pipe", tmp_path / "new.toml"
        link.symlink_to(old)
        Plan(name="other").save(link)
        assert link.is_symlink()
        assert Plan.load(old).name == "other"
        assert stat.S_IMODE(old.stat().st_mode) == 0o640
        mask = os.umask(0o027)
        try:
            Plan().save(new)
        finally:
            os.umask(mask)
        assert stat.S_IMODE(new.stat().st_mode) == 0o640
        os.mkfifo(pipe)
        with pytest.raises(PlanError, match="cannot be written: it is no file; give the name of a file"):
            Plan().save(pipe)
        assert stat.S_ISFIFO(pipe.stat().st_mode)

    def test_places_that_cannot_be_written(self, tmp_path):
        for path in (tmp_path, tmp_path / "none" / "a.toml"):
            with pytest.raises(PlanError, match="cannot be written"):
                Plan().save(path)
        assert list(tmp_path.iterdir()) == []


@given(plans())
def test_any_plan_reads_back_as_itself(plan):
    text = plan.text()
    back = Plan.parse(text)
    assert back == plan
    assert back.text() == text


# two plans in one: what the strategy leaves out counts twice
@settings(suppress_health_check=[HealthCheck.filter_too_much])
@given(plans(), plans())
def test_any_file_brought_up_to_date_says_what_the_plan_says(before, after):
    held = Plan.parse(before.text())
    changed = held.with_changes(**{name: getattr(after, name) for name in type(after).model_fields})
    assert Plan.parse(changed.text()) == after


@given(st.text(max_size=200))
def test_any_text_is_a_plan_or_a_refusal(text):
    answer_or_refusal(lambda: Plan.parse(text))


SNIPPETS = st.sampled_from(
    [
        *(*"[]{}\"'=#.,\n\\", '"""', "[[", "nan", "inf", "-1", "1e400", "true", "2020-01-01", "0x", "self"),
        *("\x00", "\ud800", "\r", "\\u0000", "\\uD800", "é", "\u202e", "9" * 30, '"5 mA"', '"12 V"', "= {"),
        *("version", "part", "points", "[red]", "[[red]]"),
    ]
)
EDITS = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), st.one_of(SNIPPETS, st.text(max_size=3))), min_size=1)
PLANS = [BUILDER_S_OWN, Plan().text(), *(path.read_text(encoding="utf-8") for path in QUILLHAVEN)]


@settings(max_examples=150)
@given(text=st.sampled_from(PLANS), edits=EDITS)
def test_any_edit_of_a_plan_is_a_plan_or_a_refusal(text, edits):
    for place, removed, added in edits:
        at = int(place * len(text))
        text = text[:at] + added + text[at + removed :]
    answer_or_refusal(lambda: Plan.parse(text))


@settings(max_examples=100)
@given(given=fields(), edits=st.lists(st.tuples(st.integers(0, 40), ANYTHING), min_size=1, max_size=4))
def test_any_value_in_any_field_is_a_plan_or_a_refusal(given, edits):
    given = deepcopy(given)  # the strategy's own samples stay as they are
    places = [(given[name], key) for name in given if isinstance(given[name], dict) for key in given[name]]
    places += [(given, name) for name in given]
    for number, value in edits:
        section, key = places[number % len(places)]
        section[key] = value
    answer_or_refusal(lambda: Plan(**given))
