"""The build sheet: whole, escaped, legible without colour, and two pages for the bench on A4 or Letter."""

import html
import itertools
import re
from functools import cache
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings

from sigcalc import Layout, Plan, SigcalcError
from sigcalc.plan.bench_readings import fault_table
from sigcalc.units import say
from sigcalc.views.many_signals_one_adapter import layout_sheet
from sigcalc.views.plan_your_signal import lamp_joints, reversing_wired
from sigcalc.views.sheet import (
    GRADE_SENTENCES,
    MARKS,
    bench_page,
    board_pictures,
    build_sheet,
    circuit_picture,
    mast_of,
    passing_pictures,
    signal_looks,
)
from sigcalc.views.sheet import _limit as limit
from sigcalc.views.sheet import _with_points as with_points
from tests.plan.plans import LAYOUT, QUILLHAVEN, plans
from tests.views.svg import groups, words

POINTS = [["1.72 V", "1 mA"], ["1.79 V", "3 mA"], ["1.86 V", "8 mA"], ["1.92 V", "15 mA"]]
OWN = {"points": POINTS, "max_current": "20 mA"}
# as much as one sheet ever holds: two resistors of the drawer, one in each branch, diodes, a long name
WIRED = {"form": "shared and extra", "extra_red": "120 ohm", "extra_green": "220 ohm"}
LARGEST = Plan(
    name="Quillhaven yard throat, northern departure signal number fourteen, platform 3",
    red=OWN,
    green=OWN,
    supply={"kind": "battery", "part": "6 x AA alkaline"},
    drive={"current": "8 mA", "drawer": ["100 ohm", "330 ohm", "470 ohm"]},
    wiring=WIRED | {"series_diodes": True, "reversing": "relay"},
)
TRAP = Plan(
    red={"part": "bright red 3 mm"}, green={"part": "ordinary green 3 mm"}, wiring={"form": "one in each branch"}
)
DRIVER = Plan(drive={"kind": "constant current"})
EXAMPLES = {"usual": Plan(), "trap": TRAP, "driver": DRIVER, "largest": LARGEST}
EXAMPLES |= {path.stem: Plan.load(path) for path in QUILLHAVEN}


class Page:
    """A page taken apart; parsing fails where a tag is not closed or an attribute is there twice."""

    def __init__(self, page):
        closed = re.sub(r"<((?:meta|br|col|hr)\b[^>]*?)/?>", r"<\1/>", page)
        root = ElementTree.fromstring(re.sub(r"(?s)<!DOCTYPE html>|<(style|title)\b.*?</\1>", "", closed))
        self.tags = [each.tag.rpartition("}")[2] for each in root.iter()]
        self.attributes = [
            (tag, *item) for tag, each in zip(self.tags, root.iter(), strict=True) for item in each.items()
        ]
        self.text = normal(" ".join(root.itertext()))


def normal(text):
    return " ".join(text.split())


@cache
def built(name, annex=True):
    """The study of an example, and its sheet."""
    study = EXAMPLES[name].study()
    return study, build_sheet(study, annex)


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_is_whole_and_asks_nothing_from_outside(name):
    (study, sheet), page = built(name), Page(built(name)[1])
    assert sheet.startswith("<!DOCTYPE html>")
    assert page.tags.count("h1") == 1
    assert {("html", "lang", "en"), ("meta", "charset", "utf-8")} <= set(page.attributes)
    assert not {"script", "link", "iframe", "img", "object", "embed", "image", "a", "form"} & set(page.tags)
    assert not re.search(r"@import|url\(|javascript:", sheet)
    addresses = set(re.findall(r"[\w.]+://[^\s\"'<>]+", sheet))
    assert addresses <= {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}
    assert not [name for _, name, _ in page.attributes if name.startswith("on") or name in ("src", "href")]
    ids = [value for _, attribute, value in page.attributes if attribute == "id"]
    labelled = {value for *where, value in page.attributes if where == ["section", "aria-labelledby"]}
    assert len(ids) == len(set(ids))
    assert labelled <= set(ids)
    for_the_bench = {"circuit", "parts", "cut", "steps", "behind", "readings"}
    for_the_bench |= {"trigger"} if study.plan.trigger else set()
    short = re.findall(r'aria-labelledby="(\w+)"', built(name, annex=False)[1])
    assert (len(short), set(short)) == (len(for_the_bench), for_the_bench)
    more = {"faults", "figures", "front", "fine", "assumptions"} | ({"timing"} if study.plan.trigger else set())
    assert labelled - {"cautions"} == for_the_bench | more


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_picture_and_everything_of_the_study_is_on_it(name):
    (study, sheet), page = built(name), Page(built(name)[1])
    named = [value for *where, value in page.attributes if where == ["svg", "aria-label"]]
    pictures = [
        circuit_picture(study, "red"),
        lamp_joints(study.pair),
        reversing_wired(study.plan, "resistor"),
    ]
    pictures += [*passing_pictures(study), *board_pictures(study), mast_of(study)]
    told = {each.sentence for each in pictures}
    # the circuit is there as it looks and as it is drawn, with one sentence
    assert len(told) + 1 == len(named) == page.tags.count("svg") == (8 if study.plan.trigger else 5)
    assert len(told - set(named)) == (name in ("trap", "driver"))  # no resistor in the plus lead

    text, test = page.text.replace("\u00a0", " "), study.bench_test
    said = [study.plan.name, study.plan.scale, study.plan.supply.name, *test.notes, *study.assumptions]
    said += [f"{line.count} × {line.part}:" for line in study.parts]
    said += [band for line in study.parts for band in line.bands]
    said += [each.text for each in (*test.cautions, *study.cautions)] + list(itertools.chain(*study.drills))
    for things, *fields in (
        (study.steps, "text", "caution"),
        (study.parts, "detail", "note"),
        (study.cuts, "what", "colour", "wire"),
        (test.before, "name", "shown"),
        (test.readings, "base", "where", "setting", "shown"),
        (study.findings, "topic", "reason", "remedy"),
    ):
        said += [getattr(each, field) for each in things for field in fields]
    if trigger := study.trigger:
        said += ["swallowed", trigger.figures["reed_closed"].text, *itertools.chain(*trigger.positions)]
    assert [each for each in said if normal(each) not in text] == []

    # grades are told without colour
    assert f"{MARKS[study.grade]} {GRADE_SENTENCES[study.grade]}" in text
    for finding in study.findings:
        assert f"{MARKS[finding.grade]} {finding.grade}: {normal(finding.topic)}." in text
        if finding.grade != "fine":  # what speaks against building comes before all else
            assert text.index(normal(finding.reason)) < text.index("The circuit")
    assert all(
        f"{mark} {grade}: " not in text.partition("The circuit")[0] for grade, mark in MARKS.items() if grade == "fine"
    )
    style = sheet.split("</style>")[0]
    assert not re.search(r"#(?!000|fff|555)[0-9a-f]{3}", style)  # black, white and one grey line


HOSTILE = (
    "</title></style></svg>\"><img src=x onerror='alert(1)'><script>",
    "{{ 7*7 }}{% raw %}${7*7} &lt;b&gt; a\u00a0b 信号 é",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_stranger_s_name_is_only_text(name):
    sheet = build_sheet(Plan(name=name).study(), annex=True)
    page, usual = Page(sheet), Page(built("usual")[1])
    assert page.tags == usual.tags
    assert normal(name) in page.text
    assert f"<title>Build sheet: {html.escape(name, quote=False)}" in sheet.replace("&#34;", '"').replace("&#39;", "'")


@settings(max_examples=10)  # a whole sheet takes 0.2 s; tests/plan/test_study.py studies many more plans
@given(plans())
def test_any_plan_has_a_whole_sheet(plan):
    try:
        study = plan.study()
    except SigcalcError:
        return
    page = Page(build_sheet(study, annex=True))
    assert normal(plan.name) in page.text
    assert "nan" not in page.text.lower().split()
    assert "None" not in page.text


def test_a_figure_without_spread_has_no_brackets():
    exact = OWN | {"drop_below": "0 V", "drop_above": "0 V"}
    plan = Plan(red=exact, green=exact, supply={"voltage": "9 V", "tolerance": 0}, drive={"tolerance": 0})
    cells = re.findall(r"<td>([^<]*\u00a0(?:V|mA|mW|[kM]?Ω))</td>", build_sheet(plan.study(), annex=True))
    assert any(cell.endswith("\u00a0mW") for cell in cells)
    assert not any("(" in cell for cell in cells)


def test_lengths_are_for_the_builder_s_own_rule():
    def page(**fields):
        return Page(build_sheet(Plan(**fields).study())).text.replace("\u00a0", " ")

    # 24 + 2 in, 95 mm up to the lower lamp, twice 1/4 in stripped: 768.1 mm, 30.24 in, to the next sixteenth 30 1/4
    inches = page(wire={"distance": "24 in", "slack": "2 in"})
    assert [each for each in ("30 1/4 in", "Strip 1/4 in", "115 mm up") if each not in inches] == []
    assert "758 mm" in page()
    whole = page(mast={"height": "4.5 in", "top_lamp": "4 in", "bottom_lamp": "3.25 in"})
    assert [each for each in ("lower lamp, 3 1/4 in up", "29 5/16 in") if each not in whole] == []
    assert " mm" not in whole.replace("3 mm", "")  # an LED's name


@pytest.mark.parametrize("name", ["usual", "largest", "trap", "driver"])
def test_the_resistor_is_in_the_plus_lead_in_every_picture_in_its_step_and_in_its_reading(name):
    study, sheet = built(name)
    shared = "shared_resistance" in study.figures
    drawn = circuit_picture(study, "red"), signal_looks(study, "red"), reversing_wired(study.plan, limit(study))
    assert all(("resistor" in each.sentence and "plus" in each.sentence) == shared for each in drawn)
    put = re.compile("shared resistors?(, .*,)? into the supply's plus lead")
    assert any(put.search(step.text) for step in study.steps) == shared
    assert ("<td>+ to R</td>" in sheet.partition("bench test")[0]) == (name != "trap")
    for each in drawn[:2]:  # between the source and the switch
        things = len(groups(each, "thing resistor")) // 2 - len(
            groups(each, "own resistor")
        )  # each thing has its shine
        count = 2 if things and "shared" in study.made_of else shared  # as symbols, two are one group
        assert len(groups(each, "resistor")) + things == count, each.sentence


def test_a_lamp_that_does_not_survive_is_drawn_dark_in_the_front_view():
    study = Plan(supply={"voltage": "24 V"}, drive={"kind": "resistor", "resistance": "100 ohm"}).study()
    for lamp in ("red", "green"):
        assert f"{lamp}, is dark" in mast_of(study, lit=lamp).sentence
        assert f"{lamp.upper()} DEAD" in words(circuit_picture(study, lamp))


# ---- what a train and the evening add


def section(study, name):
    """A section of a study's sheet; "" where it has none."""
    sheet = build_sheet(study, annex=True).replace("\xa0", " ")
    return "".join(re.findall(rf'<section aria-labelledby="{name}">.*?</section>', sheet, re.S))


def test_run_and_charge_of_the_evening_are_on_the_sheet():
    evening = {"relay": "9 V two-pole sensitive", "standby": "6 mA"}
    study = Plan(supply={"kind": "battery"}, evening=evening, wiring={"reversing": "relay"}).study()
    part = section(study, "evening")
    assert all(band.text in part for band in study.evening.figures.values())
    assert "3 h an evening, one in 7 days; red for 50 % of the time; relay 9 V two-pole sensitive" in part
    bare = section(Plan(supply={"voltage": "9 V"}, evening={}).study(), "evening")
    assert "no relay" in bare
    assert "<table>" not in bare  # an adapter of a bare voltage has no figures
    assert section(Plan().study(), "evening") == ""


def test_a_train_s_pictures_are_on_the_sheet_where_its_relay_is_known():
    unknown = Plan(trigger={}, wiring={"reversing": "relay"})
    assert [section(plan.study(), "trigger").count("<svg") for plan in (TRAIN, unknown)] == [2, 0]


# ---- the test page

TRAIN = Plan(wiring={"reversing": "relay"}, trigger={"relay": "12 V two-pole"})


@pytest.fixture(scope="module", params=[Plan(), TRAIN], ids=["switch", "train"])
def tested(request):
    """The bench test of a study, what its page shows, and the sheet."""
    study = request.param.study()
    return study.bench_test, bench_page(study.bench_test), build_sheet(study, annex=True)


def test_each_reading_is_in_one_row_and_the_power_changes_once(tested):
    test, page, sheet = tested
    rows = [(base, row) for stage in page["stages"].values() for base, row in stage.items()]
    assert len({base for base, _ in rows}) == len(rows)
    assert sorted(each.name for _, row in rows for each in row) == sorted(each.name for each in test.readings)
    assert all(each.base == base for base, row in rows for each in row)
    assert all(len({(each.where, each.setting) for each in row}) == 1 for _, row in rows)
    alone, on, off, current = page["stages"]
    assert [on, off, current] == ["with the power on", "with the power off", "the current, last of all"]
    for stage, wanted in ((off, {"ohms", "diode test"}), (current, {"DC milliamperes"})):
        assert {each.setting for row in page["stages"][stage].values() for each in row} == wanted
    # the supply is read before it feeds anything
    assert list(page["stages"][alone]) == ["supply AC", "supply open"]
    assert page["signs"]["supply AC"][0][2] == "adapter gives AC"
    places = [sheet.index(each) for each in (alone, "First look, with the power on", f'"col">{on}<')]
    assert places == sorted(places)


def test_every_fault_is_on_the_page_with_its_sign_its_look_and_its_remedy(tested):
    test, page, sheet = tested
    table = fault_table(test)
    for name, signs in table.signs.items():
        lamp = next(each.lamp for each in test.readings if each.name == name)
        for sign in signs:
            position = f"Set for {lamp}, " if lamp else ""
            assert f"{position}<b>{sign.text}</b>: {'; '.join(sign.faults)}." in sheet
    glaring = set(page["glaring"].split("; "))
    assert {"resistor bridged", "resistor ten times too small"} <= glaring
    assert not {"resistor open", "adapter unregulated"} & glaring
    named = [name for names in page["remedies"] for name in names.split("; ")]
    assert sorted(named) == sorted(table.remedies)
    assert len(set(page["remedies"].values())) == len(page["remedies"])
    assert page["right"] == ("red", "green")
    assert ("both dark", "both dark") in [row[:2] for row in page["looks"]]
    assert all(row[2] for row in page["looks"])
    assert "cold joint" in page["hidden"]


def test_the_bench_has_the_readings_that_show_whether_it_is_sound_in_the_circuit_s_letters(tested):
    test, _, sheet = tested
    table = sheet.partition('id="readings"')[2].partition("</section>")[0]
    shown = {each.name: each.shown for each in (*test.before, *test.readings)}
    wanted = [
        "supply open",
        "shared resistor, red",
        "pair, green",
        "diode test A to B",
        "current, red",
        "current, green",
    ]
    wanted += ["coil, red", "hold"] if test.circuit.relay else []
    assert [name for name in wanted if f">{shown[name]}</td>" not in table] == []
    assert [each for each in ("+ to −", "+ to R", "A1 to B1") if f">{each}</td>" not in table] == []
    drawn = sheet.partition('id="parts"')[0]
    assert [each for each in ("A1", "B1", "R", "−") if f">{each}</text>" not in drawn] == []


def test_where_nothing_limits_the_current_nothing_is_read():
    sheet = build_sheet(Plan(drive={"resistance": "0 ohm"}).study(), annex=True)
    assert 'id="readings"' not in sheet
    assert "There are no test readings" in sheet


# ---- on paper

MEASURE = """() => {
const wide = [...document.querySelectorAll("body *")]
  .filter(each => each.getBoundingClientRect().right > innerWidth + 1);
const small = [...document.querySelectorAll("body *:not(svg):not(svg *)")]
  .filter(each => parseFloat(getComputedStyle(each).fontSize) < 13.9);
for (const each of document.querySelectorAll("svg"))  // a point of a drawing, which has type of 12, on the paper
  if (9 * each.getBoundingClientRect().width / each.viewBox.baseVal.width < 8.5) small.push(each);
return [wide, small].map(found => found.map(each => each.tagName).join(" "));
}"""


@pytest.fixture(scope="module")
def tab(chromium):
    """An empty page."""
    with chromium.new_context() as profile:
        yield profile.new_page()


def pages(tab, sheet, paper):
    """How many pages a sheet has on A4 or Letter."""
    tab.set_content(sheet.replace("@page {", f"@page {{ size: {paper};"))
    printed = tab.pdf(prefer_css_page_size=True)
    boxes = set(re.findall(rb"/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]", printed))
    wide, tall = {"A4": (595, 842), "letter": (612, 792)}[paper]
    assert [(round(float(w)), round(float(h))) for w, h in boxes] == [(wide, tall)]
    return len(re.findall(rb"/Type /Page\b(?!s)", printed))


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_it_is_two_pages_for_the_bench_and_two_for_the_track_and_a_layout_is_three(tab, paper):
    for each in QUILLHAVEN:
        study, sheet = built(each.stem, annex=False)
        assert pages(tab, sheet, paper) == (4 if study.plan.trigger else 2), each.stem
    assert pages(tab, layout_sheet(Layout.load(LAYOUT).study()), paper) == 3


@pytest.mark.parametrize(("name", "width"), [("largest", 703), ("trap", 726)], ids=["A4", "Letter"])
def test_nothing_is_wider_than_the_paper_or_smaller_than_ten_and_a_half_points(tab, name, width):
    tab.set_viewport_size({"width": width, "height": 1000})
    page = built(name)[1].replace("@media print", "@media all")
    tab.set_content(page)
    assert tab.evaluate(MEASURE) == ["", ""]
    tab.set_content(page.replace("</head>", "<style>table { width: 900px; } li { font-size: 10pt; }</style></head>"))
    wide, small = tab.evaluate(MEASURE)
    assert wide.startswith("TABLE")
    assert small.startswith("LI")


@pytest.mark.parametrize(
    ("drawer", "arrangement"), [(["1.2 kohm", "1 kohm"], "in series"), (["4.7 kohm", "3.9 kohm"], "in parallel")]
)
def test_two_resistors_that_make_up_a_value_are_drawn_as_two(drawer, arrangement):
    study = Plan(drive={"drawer": drawer, "current": "5 mA"}).study()
    two = study.made_of["shared"]
    assert two.arrangement == arrangement
    scene, drawn = signal_looks(study, "red"), circuit_picture(study, "red")
    one = groups(signal_looks(Plan().study(), "red"), "thing resistor")
    assert len(groups(scene, "thing resistor")) == 2 * len(one) > 0
    values = {say(each, "ohm") for each in (two.si.first, two.si.second)}
    assert values <= set(words(scene))
    for picture in (drawn, with_points(study)):
        said = " ".join(words(picture))
        assert two.parts in said
        assert say(two.si.resistance, "ohm") not in said
    assert two.parts in drawn.sentence
    assert [two.parts in step.text for step in study.steps].count(True) == 1


def test_the_circuit_with_the_meters_letters_has_the_parts_of_each_branch():
    bare, wired = (with_points(Plan(wiring=each).study()) for each in ({}, WIRED | {"series_diodes": True}))
    assert {"120 Ω", "220 Ω"} <= set(words(wired))
    for lamp in ("red", "green"):
        parts = [sum(1 for _ in groups(each, f"own parts {lamp}")[0].iter()) for each in (bare, wired)]
        assert parts[0] < parts[1]
