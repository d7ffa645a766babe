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
from tests.plan.plans import ANYTHING, FOLDER, LAYOUT, answer_or_refusal

RUN = '[[feeders]]\nname = "run"\nstart = "supply"\nend = "post"\nlength = "3 m"\n'
SIGNAL = '[[signals]] # note {0}\nname = "{0}"\nat = "post"\n'
HEAD = "version = 1\n" + RUN
SMALL = HEAD + '[[signals]]\nname = "home"\nat = "post"\n'


@pytest.fixture(scope="module")
def quillhaven():
    return Layout.load(LAYOUT)


@pytest.fixture(scope="module")
def study(quillhaven):
    return quillhaven.study()


def layout(feeders=(("run", "supply", "post"),), signals=(("home", "post"),), run=None, signal=None, **more):
    """A layout's data; `run` and `signal` are more fields for each entry of its lists."""
    named = {"length": "3 m"} | (run or {})
    return {
        "feeders": [{"name": name, "start": start, "end": end} | named for name, start, end in feeders],
        "signals": [{"name": name, "at": at} | (signal or {}) for name, at in signals],
    } | more


def six(**more):
    return layout(signals=[(f"s{number}", "post") for number in range(6)], **more)


def told(study):
    return {each.topic: each for each in study.findings}


def made(**more):
    return told(Layout(**six(**more)).study())


def changed(text, change):
    """The text after a change to its signals."""
    before = Layout.parse(text)
    after = before.with_changes(signals=change(before.signals))
    assert Layout.parse(after.text()) == after
    return after.text()


def faults_of(make=Layout, *given, **fields):
    with pytest.raises(PlanError) as refusal:
        make(*given, **fields)
    return refusal.value.faults


BATTERY = {"kind": "battery", "part": "6 x AA alkaline"}


class TestOneSupplyForAll:
    def test_no_signal_is_given_hours_as_if_the_battery_were_its_own_and_that_is_said_once(self):
        study = Layout(**six(supply=BATTERY, signal={"evening": {}})).study()
        alone = Plan(supply=BATTERY, evening={}).study()
        for name in ("run_time", "evenings", "lamp_charge"):
            assert name in alone.figures
            assert not any(name in each.study.figures for each in study.signals)
        assert "share one 6 x AA alkaline battery" in told(study)["battery"].reason
        rest = [each.reason for each in study.findings if each.topic != "battery"]
        rest += [each.reason for signal in study.signals for each in signal.study.findings]
        assert not any("evening" in each or "It lasts" in each for each in rest)
        assert not any(topic.startswith("most signals") for topic in told(study))

        study = Layout(**layout(supply=BATTERY, signal={"evening": {}})).study()  # one signal alone has its hours
        assert "run_time" in study.signals[0].study.figures
        assert "battery" not in told(study)

    def test_nor_an_adapter_its_load_as_if_it_fed_one_signal_alone(self):
        signals = [each.study for each in Layout(**six(signal={"evening": {}})).study().signals]
        assert not any(each.topic.startswith("adapter,") for one in signals for each in one.findings)
        assert not any("adapter_load" in one.figures for one in signals)


class TestWires:
    def test_a_thinner_wire_than_one_s_own_is_not_spoken_of_where_that_does(self):
        found = made(run={"wire": "22 AWG"})
        assert found["gauge"].grade == "fine"
        assert not any("30 AWG" in str(each) or "breaks" in str(each) for each in found.values())
        assert "gauge, strength" not in made(run={"wire": "28 AWG"})
        thin = made(run={"wire": "30 AWG"})["gauge, strength"]
        assert (thin.grade, "'run' is thinner" in thin.reason) == (LOOK, True)

    def test_where_it_does_not_do_a_gauge_that_would_is_named(self):
        found = made(run={"wire": "30 AWG", "length": "150 m"}, share="90 %")["gauge"]
        assert found.grade == LOOK
        assert float(found.reason.split(" has ")[1].split(" %")[0]) < 90
        assert float(found.remedy.split(" would leave ")[1].split(" %")[0]) >= 90

    def test_thin_wire_and_a_weak_supply_are_found_and_what_may_overheat_comes_first(self):
        far = {"wire": "30 AWG", "length": "60 m"}
        weak = {"voltage": "5 V", "max_current": "20 mA"}
        found = made(run=far, signal={"drive": {"current": "7 mA"}}, supply=weak)
        assert (found["weakest lamp"].grade, found["adapter"].grade) == (LOOK, STOP)
        first, *others = made(run=far, fuse="500 mA resettable").values()
        assert (first.grade, first.risk) == (STOP, "overheating")
        risks = [each.risk for each in others if each.grade == LOOK]
        assert risks == sorted(risks, key=["overheating", "damage", ""].index)

    def test_the_weakest_lamp_s_band_reaches_from_the_worst_that_its_finding_tells(self):
        study = Layout(**six(run={"wire": "28 AWG", "length": "30 m"}, supply={"part": "5 V regulated"})).study()
        band, point = study.figures["weakest_share"], study.board.weakest
        assert (band.least, band.nominal) == (point.share_min, point.share)
        assert band.least < 0.98 * band.nominal
        assert f"({say(band.least, '')} at worst)" in told(study)["weakest lamp"].reason

    def test_signals_right_at_the_supply_need_no_section(self):
        found = Layout(signals=[{"name": "a", "at": "supply"}]).study()
        assert found.signals[0].lamps["red"].share == pytest.approx(1, abs=1e-3)
        assert found.figures["pair_length"].nominal == 0


class TestFile:
    def test_it_is_told_from_a_plan_by_its_signals_whatever_else_is_wrong(self):
        assert holds_layout(LAYOUT.read_text(encoding="utf-8"))
        assert holds_layout("signals = 3")
        for other in ('version = 1\nname = "signals"\n', "signals = [", "a." * 30_000 + "b = 1"):
            assert not holds_layout(other)

    def test_saved_as_it_was_loaded_and_a_change_leaves_every_other_line_alone(self, quillhaven, tmp_path):
        quillhaven.save(tmp_path / "a.toml")
        assert (tmp_path / "a.toml").read_bytes() == LAYOUT.read_bytes()
        changed = quillhaven.with_changes(fuse="250 mA resettable").text()
        assert changed == quillhaven.text().replace('fuse = "200 mA', 'fuse = "250 mA')

    def test_a_signal_taken_out_and_one_put_in(self, quillhaven):
        without = quillhaven.with_changes(signals=quillhaven.signals[:4] + quillhaven.signals[5:])
        assert "cattle dock" not in without.text()
        assert "# nobody in the front row saw less" in without.text()
        more = quillhaven.with_changes(signals=(*quillhaven.signals, {"name": "loop", "at": "dock"}))
        assert more.text().startswith(quillhaven.text().rstrip("\n"))
        for each in (without, more, quillhaven.with_changes(signals=quillhaven.signals[::-1])):
            assert Layout.parse(each.text()) == each

    @pytest.mark.parametrize("turn", ["renamed", "in another order", "both", "one put in before", "one taken out"])
    def test_every_note_stays_and_goes_with_its_signal(self, turn):
        far = '# far\n[[signals]] # new\nname = "away"\nat = "post" # loose\n'
        last = '# last\n[[signals]]\nname = "loop"\n'
        first = SMALL.rstrip("\n") + ' # by the shed\n[signals.drive] # bought\ncurrent = "4 mA"\n'

        def turned(signals):
            home, away, loop = signals
            named = home.model_copy(update={"name": "east home"})
            return {
                "renamed": (named, away, loop),
                "in another order": (away, loop, home),
                "both": (away, loop, named),
                "one put in before": ({"name": "first", "at": "post"}, home, away, loop),
                "one taken out": (home, loop),
            }[turn]

        text = changed(f'{first}\n{far}\n{last}at = "post"\n\n# of the scale\n', turned)
        gone = turn == "one taken out"
        notes = set(re.findall(r"# (by the shed|bought|far|new|loose|last|of the scale)$", text, re.M))
        assert notes == {"by the shed", "bought", "last", "of the scale"} | (set() if gone else {"far", "new", "loose"})
        assert last in text
        assert text.endswith("\n# of the scale\n")
        assert (far in text) != gone

    def test_odd_files_keep_what_stands_in_them(self):
        text = changed(
            SMALL + '[signals.drive] # bought\ncurrent = "4 mA"\n', lambda at: [at[0].with_changes(drive=None)]
        )
        assert '# [signals.drive] # bought\n#   current = "4 mA"\n' in text  # switched off, under its whole name
        mixed = f"version = 1\n{SIGNAL.format('a')}{RUN}{SIGNAL.format('b')}"
        assert set(re.findall("# note .", changed(mixed, lambda both: both[::-1]))) == {"# note a", "# note b"}
        unended = changed(SMALL.rstrip("\n"), lambda one: (*one, {"name": "away", "at": "post"}))
        assert re.findall(r'^name = "(\w+)"', unended, re.M) == ["run", "home", "away"]

    def test_a_new_one_of_two_hundred_signals_is_written_with_notes_and_reads_back(self, tmp_path):
        full = {"red": {"part": "low-current red 3 mm"}, "drive": {"current": "4 mA"}}
        large = Layout(**layout(signals=[(f"s{n}", "post") for n in range(200)], signal=full))
        large.save(tmp_path / "a.toml")
        assert Layout.load(tmp_path / "a.toml") == large
        assert "# of the run; both wires together are twice as long" in large.text()

    def test_plans_are_read_beside_it_and_fed_by_the_layout_which_is_said(self, quillhaven, study):
        east, north = (Plan.load(FOLDER / f"quillhaven_{name}.toml") for name in ("east_home", "north_junction"))
        plan = quillhaven.plan_of(quillhaven.signals[0])
        assert (plan.name, plan.supply, plan.drive) == ("east home", quillhaven.supply, east.drive)
        assert quillhaven.plan_of(quillhaven.signals[5]).supply == quillhaven.supply != north.supply
        finding = told(study)["supply"]
        assert finding.grade == LOOK
        assert "12 V regulated adapter feeds every signal" in finding.reason
        # the plan of north junction names 9.1 V; that of east home the layout's own adapter
        assert "'north junction' (9.1 V adapter) does not count" in finding.reason
        assert "east home" not in finding.reason
        alone = quillhaven.with_changes(signals=[each for each in quillhaven.signals if each.name != "north junction"])
        assert "supply" not in told(alone.study())

    def test_without_its_folder_the_plans_are_missing_in_the_study_only(self):
        alone = Layout.parse(LAYOUT.read_text(encoding="utf-8"))
        with pytest.raises(PlanError, match=r"quillhaven_east_home.toml was not loaded"):
            alone.study()

    def test_plans_full_of_notes_are_read_for_their_data(self, tmp_path, monkeypatch):
        """The parser that keeps notes takes a second and many megabytes for such a file."""
        (tmp_path / "full.toml").write_text("version = 1\n" + "# note\n" * 14_000, encoding="utf-8")
        (tmp_path / "layout.toml").write_text(SMALL + 'plan = "full.toml"\n', encoding="utf-8")
        parsed = []
        parse = tomlkit.parse
        monkeypatch.setattr(tomlkit, "parse", lambda text: parsed.append(len(text)) or parse(text))
        assert Layout.load(tmp_path / "layout.toml").plan_of(Layout.parse(SMALL).signals[0]) is not None
        assert 0 < max(parsed) < 1000


ELSEWHERE = "../other.toml", "/etc/passwd", "a\\b.toml", "C:x.toml", "plan.txt"


def bare(**more):
    """A layout of one signal with these fields, or one run."""
    run = {"name": "r", "start": "supply", "end": "post"}
    return layout() | ({"feeders": [run | more.pop("run")]} if "run" in more else {"signals": [{"name": "a"} | more]})


class TestFaults:
    def test_all_of_the_layout_and_of_the_plans_beside_it_are_named_at_once(self, tmp_path):
        shutil.copy(FOLDER / "quillhaven_yard.toml", tmp_path / "yard.toml")
        (tmp_path / "bad.toml").write_text('version = 1\nname = ""\n[drive]\ncurrent = "5"\n', encoding="utf-8")
        text = SMALL + 'shows = "blue"\n'
        for name, place, plan in (("b", "pst", "bad"), ("c", "post", "missing"), ("d", "post", "yard")):
            text += f'[[signals]]\nname = "{name}"\nat = "{place}"\nplan = "{plan}.toml"\n'
        (tmp_path / "layout.toml").write_text(text, encoding="utf-8")
        found = faults_of(Layout.load, tmp_path / "layout.toml")
        starts = (
            "signal 'home', shows needs",
            "signal 'b', at: no run goes to 'pst'",
            "signal 'b', plan bad.toml, name needs a text",
            "signal 'b', plan bad.toml, drive.current needs",
            "signal 'c', plan missing.toml: file",
        )
        assert [each for each, start in zip(found, starts, strict=True) if not each.startswith(start)] == []
        assert "cannot be read" in found[4]

    def test_the_faults_of_many_plans_are_counted(self, tmp_path):
        text = HEAD
        for each in (f"p{number}.toml" for number in range(30)):
            (tmp_path / each).write_text("version = 1\n" + "\n".join(f"a{n} = 1" for n in range(50)), encoding="utf-8")
            text += f'[[signals]]\nname = "{each}"\nat = "post"\nplan = "{each}"\n'
        (tmp_path / "layout.toml").write_text(text, encoding="utf-8")
        found = faults_of(Layout.load, tmp_path / "layout.toml")
        assert (len(found), found[-1]) == (21, "and 1480 more")

    @pytest.mark.parametrize(
        ("given", "said"),
        [
            *(
                (bare(at="post", plan=name), "signal 'a', plan needs the name of a .toml file beside")
                for name in ELSEWHERE
            ),
            (layout(signals=()), "signals: a layout needs at least one signal"),
            (layout(signals=[(f"s{n}", "post") for n in range(201)]), "signals needs 200 entries at most"),
            ({"signals": "all"}, "signals needs a list in square brackets"),
            (layout(signals=[("a", "post"), ("a", "post")]), "signal 'a', name: 'a' is there already"),
            (layout(signals=[("a", "x")]), "signal 'a', at: no run goes to 'x'; the places are 'supply', 'post'"),
            (layout([("r", "supply", "post"), ("r", "post", "end")]), "run 'r', name: 'r' is there already"),
            (layout([("r", "supply", "post"), ("s", "board", "x")]), "run 's', start: nothing joins 'board'"),
            (layout([("r", "post", "post")]), "run 'r', end: it ends where it starts"),
            (layout([("r", "supply", "post"), ("t", "post", "supply")]), "run 't': from 'post' to 'supply' it closes"),
            (layout(supply={"voltage": "12 V"}), "supply needs a part of the tables, or"),
            (layout(fuse="1 kA"), "fuse: "),
            (layout(share="0 %"), "share needs to be above 0 %"),
            (bare(run={}), "run 'r', length: missing"),
            (bare(run={"length": "3 m", "wire": "x"}), "run 'r', wire needs "),
            (bare(run={"name": "", "length": "3"}), "run no. 1, length needs "),
            (bare(at="post", red={"prt": "x"}), "signal 'a', red.prt: no field of a plan; did you mean 'part'?"),
            (bare(at="post", evening={"relay": "9 V two-pole"}), "signal 'a', wiring.reversing: it is"),
            (bare(at="post", plan="a.toml", red={"part": "white 3 mm"}), "signal 'a', plan: it is named, and red"),
        ],
    )
    def test_each_with_its_place(self, given, said):
        found = faults_of(**given)
        assert any(each.startswith(said) for each in found), found

    def test_a_file_of_another_kind(self):
        assert "signals" in "".join(faults_of(Layout.parse, 'version = 1\nname = "x"\n'))
        assert faults_of(Layout.parse, "version = 9\n")[0].startswith("version: this file is of version 9")


_names = st.sampled_from(["supply", "post", "board", "", "a", "b", 'x"y', "\u202e", 3, None])
_rows = st.lists(st.fixed_dictionaries({"name": _names, "start": _names, "end": _names, "length": st.just("1 m")}))


@settings(max_examples=60)
@given(st.one_of(_rows, ANYTHING), st.one_of(st.lists(st.fixed_dictionaries({"name": _names, "at": _names})), ANYTHING))
def test_any_data_are_a_layout_or_a_refusal_with_places(feeders, signals):
    made, found = answer_or_refusal(lambda: Layout(feeders=feeders, signals=signals))
    assert all(each.split(":")[0].startswith(("feeders", "run ", "signal")) for each in found[:MOST_FAULTS])
    if made is not None:
        made.study()


@given(st.text(alphabet=' \n[]="#.abpst', max_size=60), st.integers(0, len(SMALL)))
def test_a_damaged_file_is_a_layout_or_a_refusal(noise, place):
    answer_or_refusal(lambda: Layout.parse(SMALL[:place] + noise + SMALL[place:]))


class TestStudy:
    def test_it_is_that_of_the_board_with_what_each_signal_shows(self, quillhaven, study):
        board = study.board.board
        shown = [each.shows for each in quillhaven.signals]
        assert [each.load.shown for each in board.signals] == shown
        assert set(shown) == {"red", "green"}
        again = study_board(board)
        for lamp in ("red", "green"):
            for one, other in zip(study.signals, again.signals(lamp), strict=True):
                assert one.lamps[lamp].current == other.si.current
                assert one.lamps[lamp].share_least == other.share_min

    def test_the_relays_draw_their_coils_through_the_feeder_and_each_is_asked_about(self, quillhaven, study):
        calm = quillhaven.with_changes(signals=quillhaven.signals[:6])
        more = study.figures["supply_current"].nominal - calm.study().figures["supply_current"].nominal
        assert more > 2 * (8e-3 + 10e-3)
        far = [each.model_copy(update={"length": Q("60 m"), "wire": "30 AWG"}) for each in quillhaven.feeders]
        assert told(study)["relays"].grade == "fine"
        assert told(quillhaven.with_changes(feeders=far).study())["relays"].grade == STOP

    def test_each_question_has_its_findings_and_the_gravest_come_first(self, study):
        topics = {"weakest lamp", "adapter", "most signals", "gauge", "fuse, load", "fuse, thinnest wire"}
        assert topics | {"yard departure: brightness"} <= set(told(study))
        grades = [[STOP, LOOK, "fine"].index(each.grade) for each in study.findings]
        assert grades == sorted(grades)

    def test_a_short_is_judged_with_the_fuse_that_is_there_and_without_one_it_is_proposed(self, quillhaven, study):
        (fuse,) = (each for each in study.findings if re.fullmatch("short at .*, fuse", each.topic))
        assert "has acted after 2.2 s" in fuse.reason  # the most, by the 200 mA fuse's data sheet
        bare = told(quillhaven.with_changes(fuse=None).study())
        for found, put_in in ((told(study), False), (bare, True)):
            assert any("Put in a fuse" in found[each].remedy for each in found if each.startswith("short at")) == put_in
        assert bare["fuse"].grade == LOOK
        assert choose_fuse(study.board.board).fuse.name in bare["fuse"].reason

    def test_a_signal_that_cannot_light_is_named(self):
        with pytest.raises(DesignError, match=r"signal 'home': "):
            Layout(**layout(supply={"voltage": "1.5 V", "max_current": "1 A"})).study()

    def test_progress_counts_up_to_the_end(self):
        steps = []
        Layout.parse(SMALL).study(lambda *each: steps.append(each))
        done, total, names = zip(*steps, strict=True)
        assert done == tuple(range(len(steps)))
        assert set(total) == {len(steps) - 1}
        assert (names[0], names[-1]) == ("home", "done")

    def test_totals_are_the_sums_of_the_signals(self, study):
        assert sum(line.count for line in study.parts if line.part.endswith(" LED")) == 2 * len(study.signals) == 16
        assert [line.count for line in study.parts if line.part == "supply"] == [1]
        assert len({(line.part, line.detail) for line in study.parts}) == len(study.parts)
        pieces = [cut.length for each in study.signals for cut in each.study.cuts]
        assert sorted(each.length for each in study.cuts for _ in range(each.count)) == pytest.approx(sorted(pieces))
        assert study.figures["pair_length"].nominal == pytest.approx(19.7)
        (equal,) = (each for each in study.parts if each.detail.startswith("2.2 kΩ"))
        assert (equal.count, equal.note) == (3, "marked 2K2")  # what their notes share

    def test_plain_data(self, study):
        data = study.to_dict()
        assert json.loads(json.dumps(data, allow_nan=False)) == data
        first = data["signals"][0]
        assert (first["plan"], first["voltage"]["unit"]) == ("quillhaven_east_home.toml", "V")
        assert data["figures"]["supply_current"]["most"]["unit"] == "A"

    def test_what_several_signals_are_told_alike_is_said_once_with_their_names(self):
        found = [
            topic for topic in made(signal={"red": {"part": "ordinary green 3 mm"}}) if "red lamp, colour" in topic
        ]
        assert found == ["s0, s1, s2 and 3 more: red lamp, colour"]

    def test_signals_of_one_plan_are_studied_once_and_each_keeps_its_name(self, monkeypatch):
        asked, ask = [], layout_study.study_plan
        monkeypatch.setattr(layout_study, "study_plan", lambda plan, **how: asked.append(plan.name) or ask(plan, **how))
        more = '[[signals]]\nname = "starter"\nat = "post"\nshows = "green"\n[[signals]]\nname = "dim"\nat = "post"\n'
        small = Layout.parse(f'{SMALL}{more}[signals.drive]\ncurrent = "2 mA"\n')
        studies = {each.name: each.study for each in small.study().signals}
        assert asked == ["home", "dim"]
        for signal in small.signals:
            plan, study = small.plan_of(signal), studies[signal.name]
            assert study.plan == plan
            assert study.to_dict() == ask(plan, shared_supply=True).to_dict()
            assert study.bench_test.circuit.name == signal.name
