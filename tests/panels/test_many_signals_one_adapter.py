"""The lesson's panels: signals one by one, how many, which gauge, a short circuit, a layout's file."""

import html
import itertools
import re
import shutil

import pytest

from sigcalc.design.board.feeder import gauge_for, study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.design.board.limits import most_signals
from sigcalc.design.findings import LOOK, STOP
from sigcalc.lessons.quillhaven import DRIVER, DRIVES, HAND, MAKES, PLACES, RELAY, SENSITIVE, SOURCES, load
from sigcalc.panels import many_signals_one_adapter as module
from sigcalc.panels.many_signals_one_adapter import (
    FUSE,
    GAUGE,
    LAMPS_ONLY,
    LENGTH,
    LIMIT,
    MAKE,
    NOWHERE,
    SHARE,
    SHORT,
    SHOW,
    SIGNALS,
    SOURCE,
    VIEW,
    WIRING,
    HowManySignals,
    LayoutPanel,
    ShortPanel,
    SignalsOneByOne,
    WhichGauge,
)
from sigcalc.views.board import words_of
from tests.panels.moving import at_once
from tests.plan.plans import FOLDER
from tests.views.svg import by_words, groups, words

# ---- one by one


@pytest.fixture
def panel():
    return SignalsOneByOne()


def put(panel, values):
    with at_once(panel):
        for name, value in values.items():
            panel[name].value = value
    return panel.picture


def weakest(panel):
    """The share of the weakest as the sentence says it, in per cent."""
    return float(re.search(r"has (\d+) % of its light", panel.picture.sentence)[1])


def test_each_new_signal_costs_more_than_the_one_before(panel):
    shares = []
    for count in range(1, len(PLACES) + 1):
        put(panel, {SIGNALS: count})
        study = study_board(panel.board(count))
        shares.append(min(each.share for each in study.signals("red")))
        if count > 1:
            assert f"With one signal less the weakest had {100 * shares[-2]:.0f} %" in panel.picture.sentence
    losses = [before - after for before, after in itertools.pairwise(shares)]
    assert losses == sorted(losses)
    assert f"The weakest, west home, has {100 * shares[-1]:.0f} % of its light: a little dim" in panel.picture.sentence


def test_the_places_of_all_signals_are_kept(panel):
    one, eight = put(panel, {SIGNALS: 1}).pictures[0], put(panel, {SIGNALS: 8}).pictures[0]
    size = re.compile(r'viewBox="([^"]+)"')
    assert size.search(one.svg)[1] == size.search(eight.svg)[1]
    assert "west home, not connected" in words(one)
    assert len(groups(eight, "lamp")) == 16


def test_a_longer_layout_dims_the_last_and_its_relay_gives_up_first(panel):
    put(panel, {SIGNALS: 8})
    before = weakest(panel)
    scene = put(panel, {LENGTH: 21})
    assert weakest(panel) < before
    assert "a little dim" in scene.sentence
    assert scene.findings[0].topic == "relays"
    assert scene.findings[0].grade == "do not build"
    put(panel, {LENGTH: 60})
    assert "clearly dim" in panel.picture.sentence


@pytest.mark.parametrize(
    "change",
    [
        {GAUGE: 24},
        {WIRING: "star"},
        {WIRING: "mixed"},
        {MAKE: SENSITIVE},
        {MAKE: HAND},
        {LENGTH: 4},
        {LIMIT: DRIVER},
    ],
)
def test_every_remedy_helps(panel, change):
    put(panel, {SIGNALS: 8})
    before = weakest(panel)
    put(panel, change)
    assert "Every lamp has all of its light" in panel.picture.sentence or weakest(panel) > before


def test_an_unregulated_adapter_dims_them_all(panel):
    put(panel, {SOURCE: SOURCES["9 V unregulated, 500 mA"], SIGNALS: 8})
    state = study_board(panel.board(8)).state()
    assert state.share.max() < 0.9
    assert by_words(panel.picture.pictures[0], "weakest")


def test_a_battery_s_good_light_is_not_all_that_is_said(panel):
    put(panel, {SOURCE: SOURCES["9 V alkaline battery"], SIGNALS: 1})
    (told,) = [each for each in panel.picture.findings if each.topic == "battery"]
    assert (told.grade, "fresh battery" in told.reason) == (LOOK, True)
    assert by_words(panel.picture.pictures[0], "9.32 V at its terminals")


def test_colour_and_view(panel):
    put(panel, {SIGNALS: 3})
    assert {
        each.get("class").split()[-2]
        for each in groups(panel.picture.pictures[0], "lamp")
        if "lit" in each.get("class")
    } == {"red"}
    green = put(panel, {SHOW: "green", VIEW: LAMPS_ONLY}).pictures[0]
    assert "joint terminal strip" not in green.svg
    assert {each.get("class").split()[-2] for each in groups(green, "lamp") if "lit" in each.get("class")} == {"green"}


@pytest.mark.parametrize("source", list(SOURCES))
def test_every_corner_is_answered_or_refused_with_a_sentence(panel, source):
    put(panel, {SOURCE: SOURCES[source], SIGNALS: 8})
    for make, drive, length in itertools.product((HAND, RELAY), DRIVES, (2, 60)):
        put(panel, {MAKE: make, LIMIT: drive, LENGTH: length})
        assert panel.picture is not None or "no voltage satisfies" in panel.view.value


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        (SIGNALS, "2.5", "signals connected needs a whole number; you gave 2.5"),
        (SIGNALS, "9", "signals connected needs 1 to 8"),
        (SIGNALS, "eight", "signals connected needs 1 to 8"),
        (LENGTH, "1", "2 to 60 m"),
        (LENGTH, "", "you gave nothing"),
    ],
)
def test_rubbish_is_refused_and_the_picture_taken_away(panel, name, typed, said):
    panel[name].box.value = typed
    assert panel.picture is None
    assert 'role="alert"' in panel.view.value
    assert said in html.unescape(panel.view.value)


# ---- limits

NINE, TWELVE = SOURCES["9 V regulated, 500 mA"], SOURCES["12 V regulated, 1 A"]


@pytest.fixture
def how_many():
    return HowManySignals()


@pytest.fixture
def gauge():
    return WhichGauge()


def test_the_count_is_that_of_the_library(how_many):
    scene = put(how_many, {SOURCE: NINE, MAKE: RELAY})
    result = most_signals(NINE, load(NINE, RELAY), 26, "1.5 m")
    assert result.count == 5  # common practice, no source: one 9 V adapter feeds about five signals
    assert scene.sentence.startswith(f"{result.count} signals, ")
    wire, rule = scene.findings
    assert (wire.topic, wire.grade) == ("wire current", "look again")
    assert rule.topic == "rule of thumb"
    assert "Here the rule fits." in rule.reason
    assert [each.topic for each in put(how_many, {GAUGE: 22}).findings] == ["rule of thumb"]


def test_relays_that_would_stay_off_are_told_with_the_count(how_many):
    """Half the light of a lamp leaves far less than a relay needs: 9 V of 12 V (75 % must-operate)."""
    scene = put(how_many, {SOURCE: TWELVE, MAKE: RELAY, GAUGE: 30, SHARE: 50})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert all(each.topic != "relays" for each in put(how_many, {MAKE: HAND}).findings)


def test_lighter_signals_are_many_more_and_then_the_light_sets_the_end(how_many):
    counts = {}
    for make in MAKES:
        counts[make] = int(put(how_many, {SOURCE: NINE, MAKE: make}).sentence.split()[0])
    assert counts[RELAY] * 2 <= counts[SENSITIVE] < counts[HAND]
    put(how_many, {MAKE: HAND})
    assert "With one more the weakest lamp would have" in how_many.picture.sentence


def test_not_even_one_is_refused_with_what_to_do(how_many):
    put(how_many, {SOURCE: SOURCES["9 V unregulated, 500 mA"], MAKE: RELAY, SHARE: 99})
    assert how_many.picture is None
    assert "not even one signal has 99 % of its light" in html.unescape(how_many.view.value)
    put(how_many, {SHARE: 80})
    assert how_many.picture is not None


def test_the_gauge_is_that_of_the_library(gauge):
    chosen = gauge_for(gauge.board(wire=30), 0.9)
    assert f"{chosen.gauge} AWG: the weakest, {chosen.weakest}, has" in gauge.picture.sentence
    assert "Wired as chain, 11.3 m of twin wire" in gauge.picture.sentence
    assert gauge.picture.findings[0].reason.startswith(f"{chosen.gauge} AWG leaves")
    bars = gauge.picture.pictures[0].sentence
    assert f"{chosen.gauge} AWG is the thinnest that is enough" in bars
    for each, share in chosen.shares.items():
        assert f"{each} AWG {100 * share:.3g} %" in bars


def test_a_wire_that_leaves_the_relays_too_little_is_not_called_fine(gauge):
    scene = put(gauge, {SOURCE: TWELVE, MAKE: RELAY, LENGTH: 60, SHARE: 30, WIRING: "chain"})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert put(gauge, {SHARE: 90}).findings[0].topic == "gauge"


def test_a_longer_layout_takes_thicker_wire_and_a_star_thinner(gauge):
    def chosen():
        return int(gauge.picture.sentence.split(" AWG")[0].rsplit(" ", 1)[1])

    usual = chosen()
    put(gauge, {LENGTH: 30})
    assert chosen() < usual
    put(gauge, {LENGTH: 12, WIRING: "star"})
    assert chosen() > usual
    put(gauge, {WIRING: "chain", LIMIT: DRIVER})
    assert chosen() == 30


def test_a_wish_that_no_wire_fulfils_is_refused_with_what_limits_it(gauge):
    put(gauge, {SHARE: 99})
    assert gauge.picture is None
    assert "no gauge of 30, 28" in gauge.view.value
    assert GAUGE not in gauge.controls


# ---- short


@pytest.fixture
def panel_short():
    return ShortPanel()


def topics(scene):
    return {each.topic: each.grade for each in scene.findings}


@pytest.mark.parametrize("wiring", ["chain", "star", "mixed"])
@pytest.mark.parametrize("where", ["east home", "west home"])
def test_on_good_wire_every_signal_goes_all_but_dark_wherever_it_is_and_however_wired(panel_short, wiring, where):
    scene = put(panel_short, {WIRING: wiring, SHORT: where})
    short = short_at(panel_short.board(), where)
    assert set(words_of(short.held)) <= {"faint", "dark"}
    assert short.held.share.max() < 0.05
    assert "Held at the 1 A it is rated for, that leaves" in scene.sentence
    assert "SHORT HERE" in words(scene.pictures[0])


def test_on_long_thin_wire_the_adapter_does_not_notice(panel_short):
    scene = put(panel_short, {WIRING: "chain", GAUGE: 30, LENGTH: 24, SHORT: "west home"})
    short = short_at(panel_short.board(), "west home")
    assert not short.held.limited
    assert f"the board draws {1e3 * short.free.si.supply_current:.3g} mA" in scene.sentence
    assert "1 signal in full light" in scene.sentence
    assert scene.sentence.endswith("2 dark.")
    assert topics(scene) == {"source": "look again", "wires": "do not build"}


def test_nothing_holds_an_unregulated_adapter(panel_short):
    """It gives more than it is rated for, and gets hot: source and wires alone limit the current."""
    scene = put(panel_short, {SOURCE: SOURCES["9 V unregulated, 500 mA"], SHORT: "east home"})
    short = short_at(panel_short.board(), "east home")
    assert short.held is None
    assert short.free.si.supply_current > 0.5
    assert "Held at" not in scene.sentence
    assert topics(scene)["source"] == "do not build"
    assert topics(scene)["wires"] in ("look again", "do not build")


@pytest.mark.parametrize(
    ("fuse", "grade"),
    [("200 mA resettable", "fine"), ("300 mA resettable", "look again"), ("650 mA resettable", "do not build")],
)
def test_the_fuse_acts_at_once_slowly_or_perhaps_never(panel_short, fuse, grade):
    scene = put(panel_short, {FUSE: fuse})
    assert topics(scene)["fuse"] == grade
    assert "before the fuse acts" in scene.sentence
    assert f"fuse: {fuse}" in words(scene.pictures[0])


def test_a_fuse_that_is_too_small_or_too_large_for_the_board_is_said_as_well(panel_short):
    assert topics(put(panel_short, {FUSE: "100 mA resettable"}))["load"] == "do not build"
    assert topics(put(panel_short, {FUSE: "900 mA resettable"}))["thinnest wire"] == "do not build"
    assert set(topics(put(panel_short, {FUSE: "300 mA resettable"}))) == {"fuse"}


def test_without_a_short_the_board_is_as_it_should_be(panel_short):
    scene = put(panel_short, {SHORT: NOWHERE})
    assert scene.sentence == "Without a short circuit: 8 signals in full light."
    assert "SHORT HERE" not in words(scene.pictures[0])
    assert topics(put(panel_short, {FUSE: "100 mA resettable"}))["load"] == "do not build"


# ---- layout


@pytest.fixture
def panel_layout(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "plans")
    monkeypatch.chdir(tmp_path)
    return LayoutPanel()


def test_it_begins_with_the_layout_beside_the_lessons(panel_layout):
    assert panel_layout.layout_file.value == "plans/quillhaven_layout.toml"
    assert len(panel_layout.study.signals) == 8
    assert "8 signals; the weakest lamp is" in panel_layout.headline.value
    assert "<svg" in panel_layout.board.value
    assert panel_layout.signals.value.count("full light") == 16
    assert "80 % is asked for" in panel_layout.findings.value
    assert "breaks easily" not in panel_layout.findings.value  # its own wire is none of the thin
    assert "twin wire of the runs" in panel_layout.parts.value
    assert panel_layout.progress.layout.visibility == "hidden"


def test_the_lamps_called_for_change_the_board(panel_layout):
    red = panel_layout.board.value
    panel_layout.lit.value = "green"
    assert panel_layout.board.value != red
    panel_layout.large.value = True
    assert "sigcalc-large" in panel_layout._dom_classes


def test_progress_is_shown_and_taken_away_again(panel_layout, monkeypatch):
    monkeypatch.setattr(module, "_PATIENCE", -1)
    seen = []
    panel_layout.progress.observe(
        lambda change: seen.append((change["new"], panel_layout.progress.layout.visibility)), names="value"
    )
    panel_layout.progress.value = 0
    panel_layout.button.click()
    assert [value for value, _ in seen] == sorted(value for value, _ in seen)
    assert {shown for _, shown in seen[1:]} == {"visible"}
    assert panel_layout.progress.value == panel_layout.progress.max
    assert panel_layout.progress.layout.visibility == "hidden"


def test_faults_are_named_all_at_once_and_nothing_stale_stays(panel_layout, tmp_path):
    bad = tmp_path / "plans" / "bad_layout.toml"
    bad.write_text('version = 1\n[[signals]]\nname = "<b>"\nat = "x"\nplan = "missing.toml"\n', encoding="utf-8")
    panel_layout.layout_file.value = str(bad)
    assert panel_layout.study is None
    for view in (panel_layout.board, panel_layout.signals, panel_layout.findings, panel_layout.parts):
        assert view.value == ""
    assert "This layout cannot be studied yet" in panel_layout.headline.value
    assert 'role="alert"' in panel_layout.headline.value
    for place in (", at: no run goes to", ", plan missing.toml"):
        assert place in panel_layout.headline.value
    panel_layout.layout_file.value = "plans/quillhaven_layout.toml"
    assert panel_layout.study is not None


def test_a_circuit_that_cannot_light_is_an_answer(panel_layout, tmp_path):
    dark = tmp_path / "dark.toml"
    dark.write_text(
        'version = 1\n[supply]\nvoltage = "1.2 V"\nmax_current = "1 A"\n[[signals]]\nname = "a"\nat = "supply"\n',
        encoding="utf-8",
    )
    panel_layout.layout_file.value = str(dark)
    assert "signal &#x27;a&#x27;" in panel_layout.headline.value


def test_a_defect_is_shown_and_raised(panel_layout, monkeypatch):
    def broken(_):
        raise ZeroDivisionError("boom")

    monkeypatch.setattr(module.Layout, "load", broken)
    with pytest.raises(ZeroDivisionError):
        panel_layout.redraw()
    assert "report it" in panel_layout.headline.value
    assert panel_layout.board.value == ""


def test_the_sheet_is_saved_and_no_file_is_replaced_unasked(panel_layout, tmp_path):
    panel_layout._tell()
    sheet = tmp_path / "my_plans" / "my_layout.html"
    assert sheet.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert "Download my_layout.html" in panel_layout.told.value
    assert f"It is the sheet of {panel_layout.layout_file.value} as last studied." in panel_layout.told.value
    other = tmp_path / "my_plans" / "other.html"
    other.write_text("mine", encoding="utf-8")
    panel_layout.path.value = "my_plans/other.toml"
    panel_layout._tell()
    assert 'role="alert"' in panel_layout.told.value
    assert other.read_text(encoding="utf-8") == "mine"
    panel_layout.replace.value = True
    panel_layout._tell()
    assert other.read_text(encoding="utf-8") != "mine"


def test_nothing_is_written_of_a_layout_with_faults(panel_layout, tmp_path):
    panel_layout.layout_file.value = "plans/none.toml"
    panel_layout._tell()
    assert "put them right first" in panel_layout.told.value
    assert not (tmp_path / "my_plans").exists()
