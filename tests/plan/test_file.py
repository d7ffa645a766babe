"""The plan's file: what survives a save, what is refused and where, and what happens to the old file."""

import contextlib
import os
import re
import stat
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sigcalc import Plan, Q
from sigcalc.errors import PlanError
from sigcalc.plan.file import plain
from sigcalc.plan.section import section_of
from tests.plan.plans import QUILLHAVEN, fields, plans

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


class TestRoundTrip:
    def test_saved_as_it_was_loaded_not_a_byte_changes(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_text(BUILDER_S_OWN, encoding="utf-8", newline="")
        plan = Plan.load(path)
        assert plan.drive.current == Q("8 mA")
        plan.save(path)
        assert path.read_bytes() == BUILDER_S_OWN.encode()

    @pytest.mark.parametrize("ending", ["\n", "\r\n"])
    def test_line_ends_stay(self, tmp_path, ending):
        path = tmp_path / "a.toml"
        held = BUILDER_S_OWN.replace("\n", ending).encode()
        path.write_bytes(held)
        plan = Plan.load(path)
        plan.save(path)
        assert path.read_bytes() == held
        plan.with_changes(name="other").save(path)
        assert path.read_bytes() == held.replace(b"'Quillhaven \"yard\"'", b'"other"')

    def test_only_what_changed_changes(self):
        plan = Plan.parse(BUILDER_S_OWN)
        changed = plan.with_changes(
            drive=plan.drive.with_changes(current="6 mA"), limits=plan.limits.with_changes(unevenness=2.5)
        )
        text = BUILDER_S_OWN.replace('"0.008 A"', '"6 mA"').replace("unevenness = 3", "unevenness = 2.5")
        assert changed.text() == text
        assert Plan.parse(text) == changed
        assert plan.text() == BUILDER_S_OWN

    def test_the_same_said_in_another_unit_is_no_change(self):
        plan = Plan.parse(BUILDER_S_OWN)
        same = plan.with_changes(drive=plan.drive.with_changes(current="8 mA", tolerance="5 %"))
        assert same.text() == BUILDER_S_OWN

    def test_a_changed_value_keeps_the_note_behind_it(self):
        plan = Plan.parse(BUILDER_S_OWN)
        changed = plan.with_changes(supply=plan.supply.with_changes(part="9 V lithium"))
        assert '  part = "9 V lithium"  # cells from the shop, checked with the meter\n' in changed.text()

    def test_a_new_value_comes_with_its_description_and_a_new_section_at_the_end(self):
        plan = Plan.parse(BUILDER_S_OWN)
        changed = plan.with_changes(
            supply=plan.supply.with_changes(tolerance="2 %"), mast=plan.mast.with_changes(height="140 mm")
        )
        text = changed.text()
        assert 'tolerance = "2 %" # how far the voltage may be off\n' in text
        assert text.index("[supply]") < text.index('tolerance = "2 %"') < text.index("[drive]")
        assert re.search(r'\[mast\]\nheight = "140 mm" # from the baseboard', text)
        assert Plan.parse(text) == changed

    def test_a_value_taken_out_leaves_its_builder_s_note(self):
        plan = Plan.parse(BUILDER_S_OWN)
        text = plan.with_changes(supply=plan.supply.with_changes(part=None, voltage="9.4 V")).text()
        assert "# part = " in text
        assert "# cells from the shop, checked with the meter" in text
        assert Plan.parse(text).supply.voltage == Q("9.4 V")
        assert '\npart = "6 x AA alkaline"' not in text

    def test_a_description_taken_out_with_its_value_is_no_loss(self):
        plan = Plan.parse(Plan().text())
        text = plan.with_changes(supply=plan.supply.with_changes(part=None, voltage="9.4 V")).text()
        assert not re.search(r"# part = .*adapter in the tables", text)

    @pytest.mark.parametrize(
        "lamps",
        [
            'lamps = {top = "green", bottom = "red"}  # inline',
            'lamps.top = "green"  # dotted\nlamps.bottom = "red"',
            '[lamps]\ntop = "green"\nbottom = "red"',
            'lamps.top = "green"  # dotted\nscale = "1:48"\nlamps.bottom = "red"  # dotted',
            '["lamps"]\n"top" = "green"\nbottom = \'red\'',
        ],
    )
    def test_other_ways_of_writing_a_section(self, lamps):
        plan = Plan.parse(f"version = 1\n{lamps}\n")
        changed = plan.with_changes(lamps={"top": "red", "bottom": "green"})
        text = changed.text()
        assert Plan.parse(text) == changed
        assert ("# inline" in lamps) == ("# inline" in text)
        assert ("# dotted" in lamps) == ("# dotted" in text)

    def test_a_truth_value_keeps_its_note_as_well(self):
        text = "version = 1\n[wiring]\nseries_diodes = false  # none at hand\n"
        plan = Plan.parse(text)
        changed = plan.with_changes(wiring=plan.wiring.with_changes(series_diodes=True))
        assert changed.text() == text.replace("false", "true")

    def test_points_are_written_as_they_are_read(self):
        plan = Plan(red={"points": [["1.72 V", "1 mA"], [Q(1.92, "V"), "15 mA"]], "max_current": "20 mA"})
        assert 'points = [["1.72 V", "1 mA"], ["1.92 V", "15 mA"]]' in plan.text()
        assert Plan.parse(plan.text()) == plan

    def test_digits_that_count_are_kept(self):
        plan = Plan(mast={"height": Q(1 / 3, "m")}, drive={"tolerance": 0.35, "current": Q(5.000000000000001, "mA")})
        assert Plan.parse(plan.text()) == plan

    def test_units_without_a_sign_of_their_own_are_written_in_one_that_has(self):
        current = (Q(5, "V") / Q(1, "kohm")).to_root_units()
        plan = Plan(drive={"current": Q(5, "V") / Q(1, "kohm"), "dropout": Q(1, "W") / Q(1, "A")})
        assert 'dropout = "1 V"' in plan.text()
        assert plan.drive.current.to_root_units() == current
        assert Plan.parse(plan.text()).drive.current.m_as("mA") == pytest.approx(5)


class TestWhatIsKept:
    def test_a_section_added_behind_a_last_line_without_its_end(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_text('version = 1\n[supply]\nkind = "battery"\npart = "9 V lithium"', encoding="utf-8")
        plan = Plan.load(path)
        plan.with_changes(mast={"height": "140 mm"}).save(path)
        assert Plan.load(path).mast.height == Q("140 mm")

    @pytest.mark.parametrize("ending", ["\n", "\r\n"])
    def test_the_last_line_ends_as_the_others_do(self, ending):
        text = f'version = 1{ending}name = "post"'
        assert Plan.parse(text).text() == text + ending

    def test_the_note_behind_the_head_of_a_section_that_is_switched_off(self):
        text = 'version = 1\n[evening] # every Friday\nhours = "3 h" # till ten\n# bring spare cells\n[limits]\n'
        off = Plan.parse(text).with_changes(evening=None).text()
        assert '# [evening] # every Friday\n#   hours = "3 h" # till ten\n#   # bring spare cells\n' in off
        assert Plan.parse(off).evening is None

    def test_the_note_behind_a_section_in_one_line(self):
        off = Plan.parse('version = 1\nevening = {hours = "3 h"}  # every Friday\n').with_changes(evening=None).text()
        assert '# evening = {hours = "3 h"} # every Friday\n' in off

    @pytest.mark.parametrize("sign", ["\u00b5", "\u03bc"])
    def test_either_micro_sign_is_read_and_one_is_written(self, sign):
        plan = Plan(trigger={"capacitance": f"100 {sign}F"})
        assert 'capacitance = "100 \u00b5F"' in plan.text()

    @pytest.mark.parametrize("printed", ["\u00b5", "\u03bc"])
    def test_whatever_pint_prints(self, monkeypatch, printed):
        print_unit = type(Q("1 V").units).__format__
        monkeypatch.setattr(
            type(Q("1 V").units), "__format__", lambda *given: print_unit(*given).replace("\u00b5", printed)
        )
        assert plain(Q("100 \u00b5F")) == "100 \u00b5F"


class TestNewFile:
    def test_it_names_every_field_with_its_description(self):
        text = Plan().text()
        for name, info in Plan.model_fields.items():
            inner = section_of(info.annotation)
            if inner is None:
                assert f"\n{name} = " in text
                continue
            section = re.split(rf"^(?:# )?\[{name}\].*\n", text, flags=re.M)[1].split("\n\n")[0]
            for field, each in inner.model_fields.items():
                assert re.search(rf"^(# +)*{field} = .+ # {re.escape(each.description)}$", section, re.M), (name, field)

    def test_each_noted_field_can_be_made_to_count(self):
        lines = Plan().text().splitlines()
        for number, line in enumerate(lines):
            if re.match(r"# \w+ = ", line):
                text = "\n".join([*lines[:number], line.removeprefix("# "), *lines[number + 1 :]])
                tomllib.loads(text)
                with contextlib.suppress(PlanError) as _:  # two ways to say the same are one too many
                    Plan.parse(text)
                    continue
                assert "no field of a plan" not in "".join(faults(text))
                assert "unit" not in "".join(faults(text))

    def test_all_own_data_noted_make_a_plan(self):
        left_out = "resistance|drawer|extra|part|voltage|reference_voltage|no_load_voltage|capacity"
        text = re.sub(rf"^# (?!{left_out})(\w+ = )", r"\1", Plan().text(), flags=re.M)
        text = re.sub(r"^max_current = .*own adapter.*$", "", text, flags=re.M)
        text = re.sub(r'^part = "(red|green).*$', "", text, flags=re.M)
        plan = Plan.parse(text)
        assert len(plan.red.points) == 2
        assert plan.green.intensity == Q("20 mcd")

    @pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
    def test_the_layout_s_plans_stay_as_they_are(self, path):
        text = path.read_text(encoding="utf-8")
        assert Plan.load(path).text() == text


class TestReading:
    def test_a_mark_in_front_of_the_text_is_no_fault(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_bytes(b"\xef\xbb\xbf" + BUILDER_S_OWN.encode())
        assert Plan.load(path) == Plan.parse(BUILDER_S_OWN) == Plan.parse("\ufeff" + BUILDER_S_OWN)

    def test_a_missing_version_is_said_beside_all_other_faults(self):
        found = faults('name = ""\n[drive]\ncurrent = 5\n')
        assert found[0] == "version: missing; give version = 1 in the first line"
        assert [re.split(r":| needs ", each)[0] for each in found] == ["version", "name", "drive.current"]
        assert faults("") == ("version: missing; give version = 1 in the first line",)

    @pytest.mark.parametrize(
        ("version", "said"),
        [
            ("2", "version: this file is of version 2, and this library reads up to 1; update sigcalc"),
            ('"1"', "version needs the number 1, without quotes; you gave '1'"),
            ("true", "version needs the number 1, without quotes; you gave True"),
            ("1.0", "version needs the number 1, without quotes; you gave 1.0"),
            ("0", "version needs the number 1, without quotes; you gave 0"),
            ("0x" + "f" * 9999, "version: this file is of version "),
        ],
    )
    def test_versions(self, version, said):
        assert faults(f"version = {version}\n")[0].startswith(said)

    def test_a_file_of_a_later_version_is_not_blamed_for_its_fields(self):
        assert len(faults("version = 2\nsomething_new = 1\n")) == 1

    def test_where_the_text_is_no_toml_the_line_is_named(self):
        assert "line 3" in faults("version = 1\n[drive]\ncurrent = 5 mA\n")[0]

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

    @pytest.mark.parametrize("text", [None, b"version = 1", 5, ["version = 1"]])
    def test_what_is_no_text(self, text):
        assert faults(text)[0].startswith("file needs the text of a plan")

    @pytest.mark.parametrize(
        ("held", "said"),
        [
            ("version = 1\nname = 'é'".encode("latin-1"), "a.toml is not text in UTF-8; save it as UTF-8"),
            ("version = 1".encode("utf-16"), "a.toml is not text in UTF-8"),
            (b"#" * 100_001, "a.toml is too large for a plan"),
            (b"\x00\x01", "not readable as TOML"),
        ],
    )
    def test_files_that_are_no_plan(self, tmp_path, held, said):
        path = tmp_path / "a.toml"
        path.write_bytes(held)
        with pytest.raises(PlanError, match=said):
            Plan.load(path)

    def test_no_file_a_folder_and_things_that_never_end(self, tmp_path):
        with pytest.raises(PlanError, match="cannot be read: No such file"):
            Plan.load(tmp_path / "none.toml")
        with pytest.raises(PlanError, match="is no file"):
            Plan.load(tmp_path)
        if Path("/dev/zero").exists():
            with pytest.raises(PlanError, match="is no file"):
                Plan.load("/dev/zero")

    @pytest.mark.parametrize("path", [None, 5, "", "a\0b", ["a"]])
    def test_names_that_are_none(self, path):
        for action in (Plan.load, Plan().save):
            with pytest.raises(PlanError, match="file needs the name of a file"):
                action(path)

    def test_a_name_in_the_home_folder(self, tmp_path, monkeypatch):
        for name in ("HOME", "USERPROFILE"):
            monkeypatch.setenv(name, str(tmp_path))
        monkeypatch.chdir(tmp_path)
        Plan(name="mine").save("~/a.toml")
        assert Plan.load("~/a.toml").name == "mine"
        assert [each.name for each in tmp_path.iterdir()] == ["a.toml"]
        Plan(name="backup").save("~a.toml")  # no folder, just a name that begins so
        assert (tmp_path / "~a.toml").is_file()

    def test_the_home_folder_of_nobody(self):
        for action in (Plan.load, Plan().save):
            with pytest.raises(PlanError, match="names the home folder of nobody here"):
                action("~nobody-of-this-name/a.toml")

    def test_half_a_character_in_a_name(self):
        for action in (Plan.load, Plan().save):
            with pytest.raises(PlanError, match="a name without half characters"):
                action("\ud800.toml")

    @pytest.mark.parametrize(
        "name",
        [
            "con",
            "NUL.toml",
            "Com1.x.toml",
            "lpt¹.toml",
            "aux .toml",
            "a?.toml",
            "a:b.toml",
            "a.toml.",
            "a.toml ",
            "a\nb",
        ],
    )
    def test_names_that_windows_keeps_for_itself_are_not_written(self, tmp_path, name):
        with pytest.raises(PlanError, match="cannot be a file's name on every computer"):
            Plan().save(tmp_path / name)
        assert not list(tmp_path.iterdir())

    @pytest.mark.parametrize("name", ["console.toml", "com10.toml", "my com1.toml", ".toml", "a.b.toml", "é" * 125])
    def test_names_that_only_look_like_those(self, tmp_path, name):
        Plan().save(tmp_path / name)
        assert Plan.load(tmp_path / name) == Plan()

    def test_a_name_that_is_too_long(self, tmp_path):
        with pytest.raises(PlanError, match="too long"):
            Plan().save(tmp_path / ("a" * 251 + ".toml"))
        with pytest.raises(PlanError, match="cannot be read"):
            Plan.load(tmp_path / ("a" * 251 + ".toml"))

    def test_a_file_that_may_not_be_read(self, tmp_path, monkeypatch):
        path = tmp_path / "a.toml"
        Plan().save(path)

        def refuse(*_, **__):
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(Path, "open", refuse)
        with pytest.raises(PlanError, match="cannot be read: Permission denied"):
            Plan.load(path)


class TestSaving:
    @pytest.fixture
    def old(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_text(BUILDER_S_OWN, encoding="utf-8", newline="")
        return path

    @pytest.mark.parametrize(("owner", "name"), [(os, "fsync"), (Path, "replace"), (Path, "chmod")], ids=str)
    def test_whatever_fails_the_old_file_is_whole(self, old, monkeypatch, owner, name):
        def fail(*_, **__):
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(owner, name, fail)
        with pytest.raises(PlanError, match="cannot be written: No space left on device; the old file is untouched"):
            Plan(name="other").save(old)
        assert old.read_bytes() == BUILDER_S_OWN.encode()
        assert list(old.parent.iterdir()) == [old]

    def test_an_interruption_leaves_the_old_file_and_no_other(self, old, monkeypatch):
        monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            Plan().save(old)
        assert old.read_bytes() == BUILDER_S_OWN.encode()
        assert list(old.parent.iterdir()) == [old]

    def test_what_could_not_be_read_again_is_not_written(self, old, monkeypatch):
        monkeypatch.setattr(Plan, "text", lambda _: "version = 1\n[supply]\npart = '9 V lithium'[mast]\n")
        with pytest.raises(PlanError, match="nothing was written, for what would be written could not be read again"):
            Plan(name="other").save(old)
        assert old.read_bytes() == BUILDER_S_OWN.encode()
        assert list(old.parent.iterdir()) == [old]

    def test_the_new_file_is_whole_before_it_takes_the_old_one_s_place(self, old, monkeypatch):
        seen = []
        replace = Path.replace

        def look(source, target):
            seen.append((source.read_text(encoding="utf-8"), Path(target).read_text(encoding="utf-8")))
            return replace(source, target)

        monkeypatch.setattr(Path, "replace", look)
        Plan(name="other").save(old)
        assert seen == [(Plan(name="other").text(), BUILDER_S_OWN)]

    @pytest.mark.skipif(os.name != "posix", reason="permissions of this kind are POSIX's")
    def test_permissions_stay_and_new_files_follow_the_person_s_mask(self, old, tmp_path):
        old.chmod(0o640)
        Plan().save(old)
        assert stat.S_IMODE(old.stat().st_mode) == 0o640
        mask = os.umask(0o027)
        try:
            Plan().save(tmp_path / "new.toml")
        finally:
            os.umask(mask)
        assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == 0o640

    @pytest.mark.skipif(os.name != "posix", reason="links of this kind need rights elsewhere")
    def test_a_link_stays_a_link(self, old, tmp_path):
        link = tmp_path / "link.toml"
        link.symlink_to(old)
        Plan(name="other").save(link)
        assert link.is_symlink()
        assert Plan.load(old).name == "other"

    def test_places_that_cannot_be_written(self, tmp_path):
        for path in (tmp_path, tmp_path / "none" / "a.toml"):
            with pytest.raises(PlanError, match="cannot be written"):
                Plan().save(path)
        assert list(tmp_path.iterdir()) == []

    @pytest.mark.skipif(os.name != "posix", reason="no named pipes elsewhere")
    def test_what_is_no_file_is_not_written_over(self, tmp_path):
        pipe = tmp_path / "pipe"
        os.mkfifo(pipe)
        for place in (pipe, tmp_path):
            with pytest.raises(PlanError, match="cannot be written: it is no file; give the name of a file"):
                Plan().save(place)
        assert stat.S_ISFIFO(pipe.stat().st_mode)

    def test_a_name_that_no_system_takes_is_said_in_short(self, tmp_path):
        for ask in (Plan.load, Plan().save):
            with pytest.raises(PlanError) as refusal:
                ask(tmp_path / ("x" * 5000))
            assert len(str(refusal.value)) < 300

    def test_a_plan_saved_under_another_name_takes_its_notes_along(self, old, tmp_path):
        Plan.load(old).with_changes(name="copy").save(tmp_path / "b.toml")
        assert "# two of these" in (tmp_path / "b.toml").read_text(encoding="utf-8")


@settings(max_examples=60)
@given(plans())
def test_any_plan_reads_back_as_itself(plan):
    text = plan.text()
    back = Plan.parse(text)
    assert back == plan
    assert back.text() == text


# two plans in one: what the strategy leaves out counts twice
@settings(max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])
@given(plans(), plans())
def test_any_file_brought_up_to_date_says_what_the_plan_says(before, after):
    held = Plan.parse(before.text())
    changed = held.with_changes(**{name: getattr(after, name) for name in type(after).model_fields})
    assert Plan.parse(changed.text()) == after


def answer_or_refusal(make, given):
    """Plan or PlanError, and nothing else; a plan reads back as itself."""
    try:
        plan = make(given)
    except PlanError as error:
        refused = error.faults
    else:
        assert Plan.parse(plan.text()) == plan
        return
    assert refused
    assert all(isinstance(each, str) and each for each in refused)


@given(st.text(max_size=200))
def test_any_text_is_a_plan_or_a_refusal(text):
    answer_or_refusal(Plan.parse, text)


SNIPPETS = st.sampled_from(
    [
        *(*"[]{}\"'=#.,\n\\", '"""', "[[", "nan", "inf", "-1", "1e400", "true", "2020-01-01", "0x", "self"),
        *("\x00", "\ud800", "\r", "\\u0000", "\\uD800", "é", "\u202e", "9" * 30, '"5 mA"', '"12 V"', "= {"),
        *("version", "part", "points", "[red]", "[[red]]"),
    ]
)
EDITS = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), st.one_of(SNIPPETS, st.text(max_size=3))), min_size=1)
PLANS = [BUILDER_S_OWN, Plan().text(), *(path.read_text(encoding="utf-8") for path in QUILLHAVEN)]


@settings(max_examples=300)
@given(text=st.sampled_from(PLANS), edits=EDITS)
def test_any_edit_of_a_plan_is_a_plan_or_a_refusal(text, edits):
    for place, removed, added in edits:
        at = int(place * len(text))
        text = text[:at] + added + text[at + removed :]
    answer_or_refusal(Plan.parse, text)


VALUES = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=8),
        st.sampled_from(["5 mA", "9 V", "red gaasp 3 mm", "1:48", "battery", b"x"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4) | st.sampled_from(["kind", "part"]), inner)
    ),
    max_leaves=6,
)


@settings(max_examples=200)
@given(given=fields(), edits=st.lists(st.tuples(st.integers(0, 40), VALUES), min_size=1, max_size=4))
def test_any_value_in_any_field_is_a_plan_or_a_refusal(given, edits):
    places = [(section, key) for section, value in given.items() if isinstance(value, dict) for key in value]
    places += [(name, None) for name in given]
    for number, value in edits:
        section, key = places[number % len(places)]
        if key is None:
            given[section] = value
        elif isinstance(given[section], dict):
            given[section] = given[section] | {key: value}
    answer_or_refusal(lambda fields: Plan(**fields), given)


def test_of_many_faults_twenty_are_said():
    found = faults("".join(f"a{number} = 1\n" for number in range(5000)))
    assert found[0] == "version: missing; give version = 1 in the first line"
    assert len(found) == 21
    assert found[-1] == "and 4981 more"


@pytest.mark.parametrize("change", [{"height": "-1 m"}, {"heigth": "1 m"}, {"height": None}, {"self": 1}])
def test_a_section_alone_refuses_as_the_plan_does(change):
    with pytest.raises(PlanError, match=r"^(height|heigth|self)(:| needs) "):
        Plan().mast.with_changes(**change)


def test_the_largest_file_is_more_than_any_plan_needs():
    assert len(Plan().text()) * 10 < Plan.most_bytes


def test_a_missing_quotation_mark_is_called_one():
    with pytest.raises(PlanError, match="a text without its second quotation mark"):
        Plan.parse('version = 1\nname = "East home\n')
