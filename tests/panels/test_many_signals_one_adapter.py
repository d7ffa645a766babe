"""The lesson's panels: signals one by one, how many, which gauge, a short circuit, a layout's file."""

import itertools
import re
import shutil

import pytest

from sigcalc.design.board.feeder import gauge_for, study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.design.board.limits import most_signals
from sigcalc.design.findings import LOOK, STOP
from sigcalc.lessons.quillhaven import DRIVER, HAND, MAKES, PLACES, RELAY, SENSITIVE, SOURCES, load
from sigcalc.panels import many_signals_one_adapter as module
from sigcalc.panels.base import AS_IT_IS_DRAWN
from sigcalc.panels.many_signals_one_adapter import (
    DERATING,
    FUSE,
    GAUGE,
    LENGTH,
    LIMIT,
    MAKE,
    NOWHERE,
    RUN,
    SHARE,
    SHORT,
    SHOW,
    SIGNALS,
    SOURCE,
    WIRING,
    HowManySignals,
    LayoutPanel,
    ShortPanel,
    SignalsOneByOne,
    WhichGauge,
)
from sigcalc.views.board import words_of
from tests.panels.moving import fresh, grades, put, refused
from tests.plan.plans import FOLDER
from tests.views.svg import by_words, groups, words

NINE, TWELVE = SOURCES["9 V regulated, 500 mA"], SOURCES["12 V regulated, 1 A"]
UNREGULATED = SOURCES["9 V unregulated, 500 mA"]


one_by_one = fresh(SignalsOneByOne)


def weakest(panel):
    """The share of the weakest as the sentence says it, in per cent."""
    return float(re.search(r"has (\d+) % of its light", panel.picture.sentence)[1])


def lit(picture):
    lamps = [each.get("class").split() for each in groups(picture, "lamp")]
    return {each[-2] for each in lamps if "lit" in each}


def test_each_new_signal_costs_more_than_the_one_before(one_by_one):
    shares = []
    for count in range(1, len(PLACES) + 1):
        put(one_by_one, {SIGNALS: count})
        study = study_board(one_by_one.board(count))
        shares.append(min(each.share for each in study.signals("red")))
        if count > 1:
            assert f"With one signal less the weakest had {100 * shares[-2]:.0f} %" in one_by_one.picture.sentence
    losses = [before - after for before, after in itertools.pairwise(shares)]
    assert losses == sorted(losses)
    said = f"The weakest, west home, has {100 * shares[-1]:.0f} % of its light: a little dim"
    assert said in one_by_one.picture.sentence


@pytest.mark.parametrize(
    "change",
    [{GAUGE: 24}, {WIRING: "star"}, {WIRING: "mixed"}, {MAKE: SENSITIVE}, {MAKE: HAND}, {LENGTH: 4}, {LIMIT: DRIVER}],
)
def test_every_remedy_helps(one_by_one, change):
    put(one_by_one, {SIGNALS: 8})
    before = weakest(one_by_one)
    scene = put(one_by_one, change)
    assert "Every lamp has all of its light" in scene.sentence or weakest(one_by_one) > before


def test_what_the_sources_do(one_by_one):
    put(one_by_one, {SOURCE: UNREGULATED, SIGNALS: 8})
    assert study_board(one_by_one.board(8)).state().share.max() < 0.9
    assert "weakest" in words(put(one_by_one, {"show": AS_IT_IS_DRAWN}).pictures[0])
    battery = put(one_by_one, {SOURCE: SOURCES["9 V alkaline battery"], SIGNALS: 1})
    assert grades(battery)["battery"] == LOOK
    assert by_words(battery.pictures[0], "9.32 V at its terminals")


def test_as_it_looks_and_as_it_is_drawn_say_the_same(one_by_one):
    (looks,) = put(one_by_one, {SIGNALS: 3, SHOW: "green"}).pictures
    (drawn,) = put(one_by_one, {"show": AS_IT_IS_DRAWN}).pictures
    assert looks.sentence == drawn.sentence
    assert lit(drawn) == {"green"}
    assert "west home, not connected" in words(drawn)
    assert words(looks).count("not yet") == 5


how_many = fresh(HowManySignals)


def test_the_count_is_that_of_the_library(how_many):
    scene = put(how_many, {SOURCE: NINE, MAKE: RELAY})
    result = most_signals(NINE, load(NINE, RELAY), 26, "1.5 m")
    assert result.count == 5  # common practice, no source: one 9 V adapter feeds about five signals
    assert scene.sentence.startswith(f"{result.count} signals, ")
    assert grades(scene)["wire current"] == LOOK
    assert "Here the rule fits." in scene.findings[1].reason
    assert list(grades(put(how_many, {GAUGE: 22}))) == ["rule of thumb"]


def test_what_one_more_would_draw_is_printed_as_more_than_is_allowed(how_many):
    said = put(how_many, {SOURCE: TWELVE, DERATING: 20}).sentence  # of 201 mA and 200 mA three digits are not enough
    more, allowed = re.search(r"draw up to ([\d.]+) mA, beyond the ([\d.]+) mA", said).groups()
    assert float(more) > float(allowed)


def test_relays_that_would_stay_off_are_told_with_the_count(how_many):
    """Half the light of a lamp leaves far less than a relay needs: 9 V of 12 V (75 % must-operate)."""
    scene = put(how_many, {SOURCE: TWELVE, MAKE: RELAY, GAUGE: 30, SHARE: 50})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert "relays" not in grades(put(how_many, {MAKE: HAND}))


def test_lighter_signals_are_many_more_and_then_the_light_sets_the_end(how_many):
    counts = {make: int(put(how_many, {SOURCE: NINE, MAKE: make}).sentence.split()[0]) for make in MAKES}
    assert counts[RELAY] * 2 <= counts[SENSITIVE] < counts[HAND]
    assert "With one more the weakest lamp would have" in put(how_many, {MAKE: HAND}).sentence


def test_no_slider_moves_the_axis_and_what_is_beyond_it_is_said(how_many):
    ends = set()
    for change in ({RUN: 0.2}, {RUN: 10}, {SHARE: 20, DERATING: 100}, {SHARE: 99}):
        put(how_many, {SOURCE: TWELVE, MAKE: HAND, **change})
        ends.add(how_many.chart.axes.get_xlim()[1])
    assert ends == {120}
    beyond = put(how_many, {SOURCE: SOURCES["9 V alkaline battery"], SHARE: 20, RUN: 0.2})
    assert any(each.endswith("▶") for each in words(beyond.pictures[0]))


def test_not_even_one_is_refused_with_what_to_do(how_many):
    put(how_many, {SOURCE: UNREGULATED, MAKE: RELAY, SHARE: 99})
    assert "not even one signal has 99 % of its light" in refused(how_many)
    assert put(how_many, {SHARE: 80}) is not None


gauge = fresh(WhichGauge)


def test_the_gauge_is_that_of_the_library(gauge):
    chosen = gauge_for(gauge.board(wire=30), 0.9)
    assert gauge.picture.sentence.startswith("Wired as chain, 11.3 m of twin wire")
    assert f"{chosen.gauge} AWG: the weakest, {chosen.weakest}, has" in gauge.picture.sentence
    assert any(each.reason.startswith(f"{chosen.gauge} AWG leaves") for each in gauge.picture.findings)


def test_on_a_wall_stand_the_gauge_that_is_enough_and_those_next_to_it(gauge):
    gauge.stage.value = True
    for length in (2, 11, 60):
        scene = put(gauge, {LENGTH: length})
        thinnest = gauge_for(gauge.board(wire=30), gauge.text(SHARE)).gauge
        shown = [each for each in words(scene.pictures[0]) if each.endswith("AWG")]
        assert len(shown) == 5
        assert f"{thinnest} AWG" in shown
        assert scene.brief.startswith(f"{thinnest} AWG: ")


def test_on_a_wall_the_number_and_what_sets_the_end_is_said(how_many):
    count = int(how_many.picture.sentence.split()[0])
    how_many.stage.value = True
    assert how_many.picture.brief == f"{count} signals at most: with one more the last is too dim."
    assert f"{count} at most" in words(how_many.picture.pictures[0])
    assert "most signals" in grades(how_many.picture)  # a verdict on the number, which on the page is the sentence


def test_a_wire_that_leaves_the_relays_or_the_lamps_too_little_is_not_called_fine(gauge):
    scene = put(gauge, {SOURCE: TWELVE, MAKE: RELAY, LENGTH: 60, SHARE: 30, WIRING: "chain"})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert put(gauge, {SHARE: 90}).findings[0].topic == "gauge"
    put(gauge, {SHARE: 99, LENGTH: 12})
    assert "no gauge of 30, 28" in refused(gauge)


short_circuit = fresh(ShortPanel)


@pytest.mark.parametrize("wiring", ["chain", "star", "mixed"])
@pytest.mark.parametrize("where", ["east home", "west home"])
def test_on_good_wire_every_signal_goes_all_but_dark_wherever_it_is_and_however_wired(short_circuit, wiring, where):
    scene = put(short_circuit, {WIRING: wiring, SHORT: where})
    short = short_at(short_circuit.board(), where)
    assert set(words_of(short.held)) <= {"faint", "dark"}
    assert short.held.share.max() < 0.05
    assert "Held at the 1 A it is rated for, that leaves" in scene.sentence
    assert "SHORT" in words(scene.pictures[0])


def test_on_long_thin_wire_the_adapter_does_not_notice(short_circuit):
    scene = put(short_circuit, {WIRING: "chain", GAUGE: 30, LENGTH: 24, SHORT: "west home"})
    short = short_at(short_circuit.board(), "west home")
    assert not short.held.limited
    assert f"the source gives {1e3 * short.free.si.supply_current:.3g} mA" in scene.sentence
    assert "1 signal in full light" in scene.sentence
    assert scene.sentence.endswith("2 dark.")
    assert grades(scene) == {"source": LOOK, "wires": STOP}


@pytest.mark.parametrize(
    ("fuse", "found"),
    [
        ("200 mA resettable", {"short circuit, the fuse acts": "look again"}),
        ("300 mA resettable", {"fuse": LOOK}),
        ("650 mA resettable", {"fuse": STOP}),
        ("100 mA resettable", {"load": STOP}),
        ("900 mA resettable", {"thinnest wire": STOP}),
    ],
)
def test_the_fuse_acts_at_once_slowly_or_perhaps_never_or_does_not_fit_the_board(short_circuit, fuse, found):
    scene = put(short_circuit, {FUSE: fuse})
    assert found.items() <= grades(scene).items()
    assert "before the fuse acts" in scene.sentence
    assert f"fuse: {fuse}" in words(put(short_circuit, {"show": AS_IT_IS_DRAWN}).pictures[0])


def test_without_a_short_the_board_is_as_it_should_be(short_circuit):
    scene = put(short_circuit, {SHORT: NOWHERE})
    assert scene.sentence == "Without a short circuit: 8 signals in full light."
    assert "SHORT" not in words(scene.pictures[0])
    assert grades(put(short_circuit, {FUSE: "100 mA resettable"}))["load"] == STOP


@pytest.fixture
def layout(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "plans")
    monkeypatch.chdir(tmp_path)
    return LayoutPanel()


def test_it_begins_with_the_layout_beside_the_lessons(layout):
    assert layout.layout_file.value == "plans/quillhaven_layout.toml"
    assert len(layout.study.signals) == 8
    assert "8 signals; the weakest lamp is" in layout.headline.value
    assert "<svg" in layout.pages["As it looks"].value
    red = layout.pages["As it looks"].value
    layout.lit.value = "green"
    assert layout.pages["As it looks"].value != red
    layout.large.value = True
    assert "sigcalc-large" in layout._dom_classes
    for tab, said in enumerate(("thing signal", "svg", "full light", "80 % is asked for", "twin wire of the runs")):
        layout.views.selected_index = tab
        assert said in layout.views.children[tab].value


def test_progress_is_shown_and_taken_away_again(layout, monkeypatch):
    assert layout.progress.layout.visibility == "hidden"
    monkeypatch.setattr(module, "_PATIENCE", -1)
    seen, bar = [], layout.progress
    bar.observe(lambda change: seen.append((change["new"], bar.layout.visibility)), names="value")
    bar.value = 0
    layout.button.click()
    assert seen == sorted(seen)
    assert {shown for _, shown in seen[1:]} == {"visible"}
    assert (bar.value, bar.layout.visibility) == (bar.max, "hidden")


def test_faults_are_named_all_at_once_nothing_stale_stays_and_nothing_is_written(layout, tmp_path):
    bad = tmp_path / "plans" / "bad_layout.toml"
    bad.write_text('version = 1\n[[signals]]\nname = "<b>"\nat = "x"\nplan = "missing.toml"\n', encoding="utf-8")
    layout.layout_file.value = str(bad)
    assert layout.study is None
    assert {each.value for each in layout.pages.values()} == {""}
    for said in ("This layout cannot be studied yet", 'role="alert"', ", at: no run goes to", ", plan missing.toml"):
        assert said in layout.headline.value
    layout.files.buttons[0].click()
    assert "put them right first" in layout.files.told.value
    assert not (tmp_path / "my_plans").exists()
    layout.layout_file.value = "plans/quillhaven_layout.toml"
    assert layout.study is not None


def test_the_sheet_is_saved_and_no_file_is_replaced_unasked(layout, tmp_path):
    sheet = tmp_path / "my_plans" / "my_layout.html"
    sheet.parent.mkdir()
    sheet.write_text("mine", encoding="utf-8")
    layout.files.buttons[0].click()
    assert sheet.read_text(encoding="utf-8") == "mine"
    layout.files.replace.value = True
    layout.files.buttons[0].click()
    assert sheet.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert f"It is the sheet of {layout.layout_file.value} as last studied." in layout.files.told.value
