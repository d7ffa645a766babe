"""The layout's file and study: every fault at once with its place, comments kept, all signals on one network."""

import json
import re
import shutil

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc import Layout, Plan, PlanError, Q
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.fuse import choose_fuse
from sigcalc.design.findings import LOOK, STOP
from sigcalc.errors import MOST_FAULTS, DesignError
from sigcalc.plan import layout_study
from sigcalc.plan.layout import holds_layout
from sigcalc.units import say
from tests.plan.plans import FOLDER, LAYOUT

HEAD = 'version = 1\n[[feeders]]\nname = "run"\nstart = "supply"\nend = "post"\nlength = "3 m"\n'
SMALL = HEAD + '[[signals]]\nname = "home"\nat = "post"\n'


@pytest.fixture(scope="module")
def quillhaven():
    return Layout.load(LAYOUT)


@pytest.fixture(scope="module")
def study(quillhaven):
    return quillhaven.study()


def faults(text):
    with pytest.raises(PlanError) as refusal:
        Layout.parse(text)
    return refusal.value.faults


def layout(feeders=(("run", "supply", "post"),), signals=(("home", "post"),), **more):
    return {
        "feeders": [{"name": name, "start": start, "end": end, "length": "3 m"} for name, start, end in feeders],
        "signals": [{"name": name, "at": at} for name, at in signals],
    } | more


RUN = {"name": "r", "start": "supply", "end": "post"}


def faults_of(**given):
    with pytest.raises(PlanError) as refusal:
        Layout(**given)
    return refusal.value.faults


class TestOnABattery:
    SIX = layout(signals=[(f"s{k}", "post") for k in range(6)], supply={"kind": "battery", "part": "6 x AA alkaline"})

    def test_no_signal_is_given_hours_as_if_the_battery_were_its_own_and_that_is_said_once(self):
        given = self.SIX | {"signals": [each | {"evening": {}} for each in self.SIX["signals"]]}
        study = Layout(**given).study()
        alone = Plan(supply=given["supply"], evening={}).study()
        for name in ("run_time", "evenings", "lamp_charge"):
            assert name in alone.figures
            assert not any(name in each.study.figures for each in study.signals)
        told = [each for each in study.findings if each.topic == "battery"]
        assert len(told) == 1
        assert "share one 6 x AA alkaline battery" in told[0].reason
        rest = [each.reason for each in study.findings if each.topic != "battery"]
        rest += [each.reason for signal in study.signals for each in signal.study.findings]
        assert not any("evening" in each or "It lasts" in each for each in rest)

    def test_one_signal_alone_has_its_hours(self):
        given = self.SIX | {"signals": [self.SIX["signals"][0] | {"evening": {}}]}
        study = Layout(**given).study()
        assert "run_time" in study.signals[0].study.figures
        assert not any(each.topic == "battery" for each in study.findings)

    def test_no_number_of_signals_is_said_to_go_on_a_battery(self):
        topics = {each.topic for each in Layout(**self.SIX).study().findings}
        assert not any(each.startswith("most signals") for each in topics)

    def test_nor_an_adapter_its_load_as_if_it_fed_one_signal_alone(self):
        given = self.SIX | {"supply": {}, "signals": [each | {"evening": {}} for each in self.SIX["signals"]]}
        study = Layout(**given).study()
        assert not any(each.topic.startswith("adapter,") for one in study.signals for each in one.study.findings)
        assert not any("adapter_load" in each.study.figures for each in study.signals)


class TestItsOwnWires:
    def on(self, wire, length="3 m", **more):
        feeders = [{"name": "run", "start": "supply", "end": "post", "length": length, "wire": wire}]
        signals = [{"name": f"s{k}", "at": "post"} for k in range(6)]
        study = Layout(feeders=feeders, signals=signals, **more).study()
        return {each.topic: each for each in study.findings}

    def test_no_thinner_wire_than_one_s_own_is_spoken_of_where_that_does(self):
        found = self.on("22 AWG")
        assert found["gauge"].grade == "fine"
        assert not any("30 AWG" in str(each) or "breaks" in str(each) for each in found.values())

    def test_one_s_own_thin_wire_is(self):
        found = self.on("30 AWG")
        assert (found["gauge, strength"].grade, "'run' is thinner" in found["gauge, strength"].reason) == (LOOK, True)
        assert self.on("28 AWG").get("gauge, strength") is None

    def test_where_it_does_not_do_a_gauge_that_would_is_named(self):
        found = self.on("30 AWG", "150 m", share="90 %")["gauge"]
        assert found.grade == LOOK
        kept = float(found.reason.split(" has ")[1].split(" %")[0])
        assert kept < 90
        assert float(found.remedy.split(" would leave ")[1].split(" %")[0]) >= 90


class TestTheOrder:
    def test_the_headline_gives_what_may_overheat_before_what_only_dims(self):
        feeders = [{"name": "run", "start": "supply", "end": "post", "length": "60 m", "wire": "30 AWG"}]
        signals = [{"name": f"s{k}", "at": "post"} for k in range(6)]
        study = Layout(feeders=feeders, signals=signals, fuse="500 mA resettable").study()
        first = study.findings[0]
        assert (first.grade, first.risk) == (STOP, "overheating")
        risks = [each.risk for each in study.findings if each.grade == LOOK]
        assert risks == sorted(risks, key=["overheating", "damage", ""].index)


class TestWhatIsSaid:
    def test_the_weakest_lamp_s_band_reaches_from_the_worst_that_its_finding_tells(self):
        signals = [{"name": f"s{k}", "at": "post"} for k in range(6)]
        feeders = [{"name": "run", "start": "supply", "end": "post", "length": "30 m", "wire": "28 AWG"}]
        study = Layout(feeders=feeders, signals=signals, supply={"part": "5 V regulated"}).study()
        band, point = study.figures["weakest_share"], study.board.weakest
        assert (band.least, band.nominal) == (point.share_min, point.share)
        assert band.least < 0.98 * band.nominal
        (told,) = (each.reason for each in study.findings if each.topic == "weakest lamp")
        assert f"({say(band.least, '')} at worst)" in told

    def test_what_several_signals_are_told_alike_is_said_once_with_their_names(self):
        lamp = {"red": {"part": "green gap 3 mm"}}
        signals = [{"name": f"s{k}", "at": "post"} | (lamp if k else {}) for k in range(6)]
        study = Layout(**layout() | {"signals": signals}).study()
        told = [each.topic for each in study.findings if each.topic.endswith("red lamp, colour")]
        assert told == ["s1, s2, s3 and 2 more: red lamp, colour"]


class TestFile:
    def test_equal_parts_keep_what_their_notes_share(self, study):
        (line,) = (each for each in study.parts if each.detail.startswith("2.2 kΩ"))
        assert (line.count, line.note) == (3, "marked 2K2")

    def test_it_is_told_from_a_plan_by_its_signals_whatever_else_is_wrong(self):
        assert holds_layout(LAYOUT.read_text(encoding="utf-8"))
        assert holds_layout("signals = 3")
        for other in ('version = 1\nname = "signals"\n', "signals = [", "a." * 30_000 + "b = 1"):
            assert not holds_layout(other)

    def test_an_endless_key_is_refused_before_it_is_read(self):
        """tomllib takes the square of its length in time, or more."""
        assert faults("a." * 30_000 + "b = 1") == (
            "file: too large or too deeply nested for a plan; a plan is a page of text",
        )

    def test_the_invented_layout_has_eight_signals_and_is_saved_as_it_was_loaded(self, quillhaven, tmp_path):
        assert len(quillhaven.signals) == 8
        quillhaven.save(tmp_path / "a.toml")
        assert (tmp_path / "a.toml").read_bytes() == LAYOUT.read_bytes()

    def test_a_change_leaves_every_other_line_alone(self, quillhaven):
        changed = quillhaven.with_changes(fuse="250 mA resettable")
        before, after = (each.text().splitlines() for each in (quillhaven, changed))
        differ = [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]
        assert differ == [
            (
                'fuse = "200 mA resettable"   # sized for the thinnest wire',
                'fuse = "250 mA resettable"   # sized for the thinnest wire',
            )
        ]

    def test_a_signal_taken_out_and_one_put_in(self, quillhaven):
        without = quillhaven.with_changes(signals=quillhaven.signals[:4] + quillhaven.signals[5:])
        assert "cattle dock" not in without.text()
        assert "# nobody in the front row saw less" in without.text()
        assert Layout.parse(without.text()) == without
        more = quillhaven.with_changes(signals=(*quillhaven.signals, {"name": "loop", "at": "dock"}))
        assert Layout.parse(more.text()) == more
        assert more.text().startswith(quillhaven.text().rstrip("\n"))
        turned = quillhaven.with_changes(signals=quillhaven.signals[::-1])
        assert Layout.parse(turned.text()) == turned

    @pytest.mark.parametrize("turn", ["renamed", "in another order", "both", "one put in before", "one taken out"])
    def test_every_note_stays_and_goes_with_its_signal(self, turn):
        text = SMALL.rstrip("\n") + ' # by the shed\n[signals.drive] # bought\ncurrent = "4 mA"\n\n'
        text += '# far\n[[signals]] # new\nname = "away"\nat = "post" # loose\n\n'
        text += '# last\n[[signals]]\nname = "loop"\nat = "post"\n\n# of the scale\n'
        before = Layout.parse(text)
        home, away, loop = before.signals
        named = home.model_copy(update={"name": "east home"})
        signals = {
            "renamed": (named, away, loop),
            "in another order": (away, loop, home),
            "both": (away, loop, named),
            "one put in before": ({"name": "first", "at": "post"}, home, away, loop),
            "one taken out": (home, loop),
        }[turn]
        after = before.with_changes(signals=signals)
        assert Layout.parse(after.text()) == after
        notes = re.findall(r"# (by the shed|bought|far|new|loose|last|of the scale)$", after.text(), re.M)
        gone = {"new", "loose", "far"} if turn == "one taken out" else set()
        assert set(notes) == {"by the shed", "bought", "far", "new", "loose", "last", "of the scale"} - gone
        assert '# last\n[[signals]]\nname = "loop"' in after.text()
        assert after.text().endswith("\n# of the scale\n")
        assert gone or '# far\n[[signals]] # new\nname = "away"\nat = "post" # loose\n' in after.text()

    def test_a_signal_s_section_that_is_switched_off_stays_as_a_note_under_its_whole_name(self):
        before = Layout.parse(SMALL + '[signals.drive] # bought\ncurrent = "4 mA"\n')
        after = before.with_changes(signals=[before.signals[0].with_changes(drive=None)])
        assert '# [signals.drive] # bought\n#   current = "4 mA"\n' in after.text()
        assert Layout.parse(after.text()) == after

    def test_lists_whose_entries_are_mixed_in_the_file(self):
        head, run = "version = 1\n", HEAD.removeprefix("version = 1\n")
        signals = [f'[[signals]] # note {name}\nname = "{name}"\nat = "post"\n' for name in "ab"]
        before = Layout.parse(head + signals[0] + run + signals[1])
        after = before.with_changes(signals=before.signals[::-1])
        assert Layout.parse(after.text()) == after
        assert "# note a" in after.text()
        assert "# note b" in after.text()

    def test_a_signal_added_behind_a_last_line_without_its_end(self, tmp_path):
        path = tmp_path / "a.toml"
        path.write_text(SMALL.rstrip("\n"), encoding="utf-8")
        before = Layout.load(path)
        before.with_changes(signals=(*before.signals, {"name": "away", "at": "post"})).save(path)
        assert [each.name for each in Layout.load(path).signals] == ["home", "away"]

    def test_two_hundred_signals_with_all_their_notes_can_be_saved_and_read(self, tmp_path):
        full = {"red": {"part": "red low-current 3 mm"}, "drive": {"current": "4 mA"}}
        large = Layout(**layout() | {"signals": [{"name": f"s{n}", "at": "post", **full} for n in range(200)]})
        large.save(tmp_path / "a.toml")
        assert Layout.load(tmp_path / "a.toml") == large

    def test_a_new_one_is_written_with_notes_and_reads_back(self):
        new = Layout(**layout(fuse="200 mA resettable", supply={"part": "9 V regulated"}))
        assert Layout.parse(new.text()) == new
        assert "# of the run; both wires together are twice as long" in new.text()

    def test_no_file_is_lost_where_a_save_fails(self, tmp_path):
        with pytest.raises(PlanError, match=r"cannot be written"):
            Layout(**layout()).save(tmp_path / "nowhere" / "a.toml")

    def test_plans_are_read_beside_it_and_fed_by_the_layout(self, quillhaven):
        plan = quillhaven.plan_of(quillhaven.signals[0])
        own = Plan.load(FOLDER / "quillhaven_east_home.toml")
        assert plan.drive == own.drive
        assert (plan.name, plan.supply) == ("east home", quillhaven.supply)
        north = quillhaven.plan_of(quillhaven.signals[5])
        assert north.supply == quillhaven.supply
        assert Plan.load(FOLDER / "quillhaven_north_junction.toml").supply != quillhaven.supply

    def test_a_plan_whose_own_supply_does_not_count_is_told_of(self, quillhaven, study):
        (told,) = (each for each in study.findings if each.topic == "supply")
        assert told.grade == "look again"
        assert "12 V regulated adapter feeds every signal" in told.reason
        # the plan of north junction names 9.1 V; that of east home the layout's own adapter
        assert "'north junction' (9.1 V adapter) does not count" in told.reason
        assert "east home" not in told.reason
        alone = quillhaven.with_changes(signals=[each for each in quillhaven.signals if each.name != "north junction"])
        assert not any(each.topic == "supply" for each in alone.study().findings)

    def test_a_short_is_judged_with_the_fuse_that_is_there(self, quillhaven, study):
        said = {each.topic: each for each in study.findings if each.topic.startswith("short at")}
        (fuse,) = (each for topic, each in said.items() if topic.endswith(", fuse"))
        assert "it has acted after 2.2 s" in fuse.reason  # the most, by the 200 mA fuse's data sheet
        assert not any("Put in a fuse" in each.remedy for each in said.values())
        bare = quillhaven.with_changes(fuse=None).study()
        assert any("Put in a fuse" in each.remedy for each in bare.findings if each.topic.startswith("short at"))

    def test_every_relay_of_the_layout_is_asked_about(self, quillhaven, study):
        (relays,) = (each for each in study.findings if each.topic == "relays")
        assert relays.grade == "fine"
        far = [each.model_copy(update={"length": Q("60 m"), "wire": "30 AWG"}) for each in quillhaven.feeders]
        worse = quillhaven.with_changes(feeders=far).study()
        (relays,) = (each for each in worse.findings if each.topic == "relays")
        assert relays.grade == "do not build"

    def test_without_its_folder_the_plans_are_missing_in_the_study_only(self):
        alone = Layout.parse(LAYOUT.read_text(encoding="utf-8"))
        with pytest.raises(PlanError, match=r"quillhaven_east_home.toml was not loaded"):
            alone.study()


class TestFaults:
    def test_all_of_the_layout_and_of_the_plans_beside_it_are_named_at_once(self, tmp_path):
        shutil.copy(FOLDER / "quillhaven_yard.toml", tmp_path / "yard.toml")
        (tmp_path / "bad.toml").write_text('version = 1\nname = ""\n[drive]\ncurrent = "5"\n', encoding="utf-8")
        text = SMALL + 'shows = "blue"\n'
        text += '[[signals]]\nname = "b"\nat = "pst"\nplan = "bad.toml"\n'
        text += '[[signals]]\nname = "c"\nat = "post"\nplan = "missing.toml"\n'
        text += '[[signals]]\nname = "d"\nat = "post"\nplan = "yard.toml"\n'
        (tmp_path / "layout.toml").write_text(text, encoding="utf-8")
        with pytest.raises(PlanError) as refusal:
            Layout.load(tmp_path / "layout.toml")
        found = refusal.value.faults
        starts = (
            "signal 'home', shows needs",
            "signal 'b', at: no run goes to 'pst'",
            "signal 'b', plan bad.toml, name needs a text",
            "signal 'b', plan bad.toml, drive.current needs",
            "signal 'c', plan missing.toml: file",
        )
        assert [each.startswith(start) for each, start in zip(found, starts, strict=True)] == [True] * 5
        assert "cannot be read" in found[4]

    def test_more_signals_than_are_studied(self):
        found = faults_of(**layout(signals=[(f"s{number}", "post") for number in range(201)]))
        assert found == ("signals needs 200 entries at most; you gave 201",)

    def test_plans_full_of_notes_are_read_for_their_data(self, tmp_path, monkeypatch):
        """The parser that keeps notes takes a second and many megabytes for such a file."""
        (tmp_path / "full.toml").write_text("version = 1\n" + "# note\n" * 14_000, encoding="utf-8")
        (tmp_path / "layout.toml").write_text(SMALL + 'plan = "full.toml"\n', encoding="utf-8")
        parsed = []
        parse = tomlkit.parse
        monkeypatch.setattr(tomlkit, "parse", lambda text: parsed.append(len(text)) or parse(text))
        assert Layout.load(tmp_path / "layout.toml").plan_of(Layout.parse(SMALL).signals[0]) is not None
        assert parsed
        assert max(parsed) < 1000

    def test_the_faults_of_many_plans_are_counted(self, tmp_path):
        names = [f"p{number}.toml" for number in range(30)]
        for each in names:
            (tmp_path / each).write_text("version = 1\n" + "\n".join(f"a{n} = 1" for n in range(50)), encoding="utf-8")
        signals = (f'[[signals]]\nname = "{each}"\nat = "post"\nplan = "{each}"\n' for each in names)
        (tmp_path / "layout.toml").write_text(HEAD + "".join(signals), encoding="utf-8")
        with pytest.raises(PlanError) as refusal:
            Layout.load(tmp_path / "layout.toml")
        assert len(refusal.value.faults) == 21
        assert refusal.value.faults[-1] == "and 1480 more"

    @pytest.mark.parametrize("name", ["../other.toml", "/etc/passwd", "a\\b.toml", "C:x.toml", "plan.txt"])
    def test_only_files_beside_it_are_read(self, name):
        (found,) = faults_of(**layout(signals=()) | {"signals": [{"name": "a", "at": "post", "plan": name}]})
        assert found.startswith("signal 'a', plan needs the name of a .toml file beside the layout's")

    @pytest.mark.parametrize(
        ("given", "said"),
        [
            (layout(signals=()), "signals: a layout needs at least one signal"),
            (layout(signals=[("a", "post"), ("a", "post")]), "signal 'a', name: 'a' is there already"),
            (
                layout(signals=[("a", "tower")]),
                "signal 'a', at: no run goes to 'tower'; the places are 'supply', 'post'",
            ),
            (layout(feeders=[("r", "supply", "post"), ("r", "post", "end")]), "run 'r', name: 'r' is there already"),
            (layout(feeders=[("r", "supply", "post"), ("s", "board", "x")]), "run 's', start: nothing joins 'board'"),
            (layout(feeders=[("r", "post", "post")]), "run 'r', end: it ends where it starts"),
            (
                layout(feeders=[("r", "supply", "post"), ("s", "post", "b"), ("t", "b", "supply")]),
                "run 't': from 'b' to 'supply' it closes a loop",
            ),
            (layout(supply={"voltage": "12 V"}), "supply needs a part of the tables, or"),
            (layout(fuse="1 kA"), "fuse: "),
            (layout(share="0 %"), "share needs to be above 0 %"),
            (layout() | {"feeders": [{"name": "r", "start": "supply", "end": "post"}]}, "run 'r', length: missing"),
            (
                layout() | {"feeders": [{"name": "r", "start": "supply", "end": "post", "length": "3"}]},
                "run 'r', length needs ",
            ),
            (
                layout() | {"feeders": [{"name": "r", "start": "supply", "end": "post", "length": "3 m", "wire": "x"}]},
                "run 'r', wire needs ",
            ),
            (
                layout() | {"signals": [{"name": "a", "at": "post", "lenght": 1}]},
                "signal 'a', lenght: no field of a plan",
            ),
            (
                layout() | {"signals": [{"name": "a", "at": "post", "red": {"prt": "x"}}]},
                "signal 'a', red.prt: no field of a plan; did you mean 'part'?",
            ),
            (
                layout() | {"signals": [{"name": "a", "at": "post", "evening": {"relay": "9 V two-pole"}}]},
                "signal 'a', wiring.reversing: it is",
            ),
            (
                layout() | {"signals": [{"name": "a", "at": "post", "plan": "a.toml", "red": {"part": "white 3 mm"}}]},
                "signal 'a', plan: it is named, and red given",
            ),
            ({"signals": "all"}, "signals needs a list in square brackets"),
        ],
    )
    def test_each_with_its_place(self, given, said):
        found = faults_of(**given)
        assert any(each.startswith(said) for each in found), found

    def test_a_file_of_another_kind(self):
        assert "signals" in "".join(faults('version = 1\nname = "x"\n'))
        assert faults("version = 9\n")[0].startswith("version: this file is of version 9")


_names = st.sampled_from(["supply", "post", "board", "", "a", "b", 'x"y', "\u202e", 3, None])
_rows = st.lists(st.fixed_dictionaries({"name": _names, "start": _names, "end": _names, "length": st.just("1 m")}))
_anything = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(-3, 3), st.text(max_size=5)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)),
    max_leaves=6,
)


@settings(max_examples=150)
@given(
    st.one_of(_rows, _anything), st.one_of(st.lists(st.fixed_dictionaries({"name": _names, "at": _names})), _anything)
)
def test_any_data_are_a_layout_or_a_refusal_with_places(feeders, signals):
    made, found = made_or_faults(lambda: Layout(feeders=feeders, signals=signals))
    assert (made is None) == bool(found)
    assert all(each.split(":")[0].startswith(("feeders", "run ", "signal")) for each in found[:MOST_FAULTS])
    if made is not None:
        assert Layout.parse(made.text()) == made
        made.study()


def made_or_faults(make):
    try:
        return make(), ()
    except PlanError as refusal:
        return None, refusal.faults


@settings(max_examples=60)
@given(st.text(alphabet=' \n[]="#.abpst', max_size=60), st.integers(0, len(SMALL)))
def test_a_damaged_file_is_a_layout_or_a_refusal(noise, place):
    made, found = made_or_faults(lambda: Layout.parse(SMALL[:place] + noise + SMALL[place:]))
    assert (made is None) == bool(found)


class TestStudy:
    def test_it_is_that_of_the_board(self, quillhaven, study):
        board = study.board.board
        assert [each.name for each in board.signals] == [each.name for each in quillhaven.signals]
        again = study_board(board)
        for lamp in ("red", "green"):
            for one, other in zip(study.signals, again.signals(lamp), strict=True):
                assert one.lamps[lamp].current == other.si.current
                assert one.lamps[lamp].share_least == other.share_min

    def test_voltages_and_currents_obey_ohm_and_kirchhoff(self, study):
        """By hand along the main run: what is lost on each section is its current times twice its length of wire."""
        state, board = study.board.state(), study.board.board
        for number, section in enumerate(board.sections):
            drop = state.si.node_voltage[board.place[section.start]] - state.si.node_voltage[board.place[section.end]]
            ohms = section.loop_resistance.m_as("ohm")
            assert drop == pytest.approx(float(state.si.section_current[number]) * ohms, rel=1e-6)
        lead = float(state.si.section_current[0])
        branches = [
            float(state.si.section_current[n]) for n, each in enumerate(board.sections) if each.start == "board"
        ]
        assert lead == pytest.approx(sum(branches))

    def test_the_relays_draw_their_coils_through_the_feeder(self, quillhaven, study):
        calm = quillhaven.with_changes(signals=quillhaven.signals[:6])
        more = study.figures["supply_current"].nominal - calm.study().figures["supply_current"].nominal
        assert more > 2 * (8e-3 + 10e-3)

    def test_what_a_signal_shows_is_what_the_board_is_set_to(self, quillhaven):
        shown = {each.name: each.shows for each in quillhaven.signals}
        assert shown["east home"] == "green"
        board = quillhaven.study().board.board
        assert {each.name: each.load.shown for each in board.signals} == shown

    def test_each_question_has_its_findings(self, study):
        topics = {each.topic for each in study.findings}
        assert {"weakest lamp", "adapter", "most signals", "gauge", "fuse, load", "fuse, thinnest wire"} <= topics
        assert any(each.startswith("short at ") for each in topics)
        assert "yard departure: brightness" in topics
        order = ["do not build", "look again", "fine"]
        assert [order.index(each.grade) for each in study.findings] == sorted(
            order.index(each.grade) for each in study.findings
        )

    def test_thin_wire_and_a_weak_supply_are_found(self):
        far = layout(
            feeders=[("r", "supply", "post")],
            signals=[(f"s{number}", "post") for number in range(6)],
            supply={"voltage": "5 V", "max_current": "20 mA"},
        )
        far["feeders"][0] |= {"wire": "30 AWG", "length": "60 m"}
        for each in far["signals"]:
            each["drive"] = {"current": "7 mA"}
        found = {each.topic: each.grade for each in Layout(**far).study().findings}
        assert found["weakest lamp"] == "look again"
        assert found["adapter"] == "do not build"

    def test_without_a_fuse_one_is_proposed(self, quillhaven, study):
        (finding,) = [each for each in quillhaven.with_changes(fuse=None).study().findings if each.topic == "fuse"]
        assert finding.grade == "look again"
        assert choose_fuse(study.board.board).fuse.name in finding.reason

    def test_a_signal_that_cannot_light_is_named(self):
        bad = layout(supply={"voltage": "1.5 V", "max_current": "1 A"})
        with pytest.raises(DesignError, match=r"signal 'home': "):
            Layout(**bad).study()

    def test_signals_right_at_the_supply_need_no_section(self):
        found = Layout(signals=[{"name": "a", "at": "supply"}]).study()
        assert found.signals[0].lamps["red"].share == pytest.approx(1, abs=1e-3)
        assert found.figures["pair_length"].nominal == 0

    def test_progress_counts_up_to_the_end(self, quillhaven):
        told = []
        quillhaven.study(lambda *each: told.append(each))
        assert [done for done, _, _ in told] == list(range(len(told)))
        assert {total for _, total, _ in told} == {len(told) - 1}
        assert told[0][2] == "east home"
        assert told[-1][2] == "done"

    def test_totals_are_the_sums_of_the_signals(self, study):
        leds = sum(line.count for line in study.parts if line.part.endswith(" LED"))
        assert leds == 16
        assert [line.count for line in study.parts if line.part == "supply"] == [1]
        assert len({(line.part, line.detail) for line in study.parts}) == len(study.parts)
        pieces = sum(len(each.study.cuts) for each in study.signals)
        assert sum(each.count for each in study.cuts) == pieces
        length = sum(cut.length for each in study.signals for cut in each.study.cuts)
        assert sum(each.count * each.length for each in study.cuts) == pytest.approx(length, rel=1e-3)
        assert study.figures["pair_length"].nominal == pytest.approx(Q("19.7 m").m_as("m"))

    def test_plain_data(self, study):
        data = study.to_dict()
        assert json.loads(json.dumps(data, allow_nan=False)) == data
        assert len(data["signals"]) == 8
        assert data["signals"][0]["plan"] == "quillhaven_east_home.toml"
        assert data["figures"]["supply_current"]["most"]["unit"] == "A"


def test_signals_of_one_plan_are_studied_once_and_each_keeps_its_name(monkeypatch):
    asked, ask = [], layout_study.study_plan
    monkeypatch.setattr(layout_study, "study_plan", lambda plan, **how: asked.append(plan.name) or ask(plan, **how))
    more = '[[signals]]\nname = "starter"\nat = "post"\nshows = "green"\n[[signals]]\nname = "dim"\nat = "post"\n'
    small = Layout.parse(f'{SMALL}{more}[signals.drive]\ncurrent = "2 mA"\n')
    studies = {each.name: each.study for each in small.study().signals}
    assert asked == ["home", "dim"]
    for signal in small.signals:
        plan = small.plan_of(signal)
        assert studies[signal.name].plan == plan
        assert studies[signal.name].to_dict() == ask(plan, shared_supply=True).to_dict()
        assert studies[signal.name].bench_test.circuit.name == signal.name
