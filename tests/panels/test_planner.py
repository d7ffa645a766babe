"""The planner in process: edits, faults, files; nothing typed is lost and no file is replaced unasked."""

import datetime
from pathlib import Path

import pytest
from ipywidgets.widgets.widget import _instances

from sigcalc import Plan, PlanError, Q
from sigcalc.panels.plan_field import MORE, NONE, OWN
from sigcalc.panels.plan_form import PlanForm, in_the_form
from sigcalc.panels.planner import Planner
from sigcalc.plan.model import TITLES

WHEN = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)


@pytest.fixture
def planner(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return Planner()


def press(planner, text):
    """Press the button of this text, as the browser does."""
    (button,) = [each for each in planner.files.buttons if each.description == text]
    button.click()
    return planner.files.told.value


def enter(planner, place, value):
    planner.form.fields[place].widget.value = value


def shown(planner, title):
    """What the tab of this title shows."""
    planner.views.selected_index = planner.views.titles.index(title)
    return planner.views.children[planner.views.selected_index].value


def upload(planner, content, name="east.toml"):
    content = content.encode() if isinstance(content, str) else content
    planner.upload.value = (
        {"name": name, "type": "", "size": len(content), "last_modified": WHEN, "content": memoryview(content)},
    )
    return planner.files.told.value


def greyed(planner):
    """Whether the circuit is the last good one, greyed once."""
    circuit = planner.pages["Circuit"].value
    return circuit.startswith('<div class="sigcalc-greyed"') and circuit.count("sigcalc-greyed") == 1


def test_the_form_says_exactly_the_plan_it_was_filled_from():
    form = PlanForm()
    plan = Plan(
        red={"points": (("1.9 V", "5 mA"), ("2.0 V", "20 mA")), "max_current": "20 mA"},
        supply={"voltage": "9 V", "tolerance": "3 %"},
        drive={"drawer": ("470 ohm", "1 kohm")},
        wiring={"form": "shared and extra", "series_diodes": True, "reversing": "relay"},
        evening={"until": "5.4 V", "relay": "9 V two-pole", "red_share": "30 %"},
        trigger={"diameter": "4 mm", "length": "2 mm", "prototype_speed": "60 km/h", "both_ways": True},
    )
    for each in (plan, Plan(drive={"kind": "regulator", "part": "lm317"}, trigger={})):
        form.write(each)
        assert Plan(**form.read()) == each


def test_every_field_of_the_plan_has_an_input_with_a_name_and_a_note_that_can_be_read_whole():
    form = PlanForm()
    fields = form.fields
    assert all(field.widget.description and field.widget.tooltip for field in fields.values())
    assert {place.split(".")[0] for place in fields} == set(Plan.model_fields) - {"version"}
    assert set(form.uses) == {name for name, info in Plan.model_fields.items() if info.default is None}
    assert set(TITLES) == set(Plan.model_fields) - {"version", "name", "scale"}
    note = Plan.model_fields["red"].annotation.model_fields["max_reverse_voltage"].description
    assert note in fields["red.max_reverse_voltage"].row.children[1].value
    assert fields["drive.drawer"].widget.placeholder == "such as 470 ohm, 1 kohm"
    assert len(fields["wiring.reversing"].row.children) == 1  # its list shows the words to choose from
    longest = max(len(getattr(each.widget, "placeholder", "")) for each in fields.values())
    assert longest <= 30  # what the narrow column shows whole


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"drive": {"current": "5"}}, "Current and resistor, current needs a current with its unit"),
        ({"drive": {"drawer": ["470"]}}, "Current and resistor, drawer, no. 1 needs a resistance with its unit"),
        ({"scale": "O"}, "scale: scale 'O' stands for several ratios"),
        ({"wiring": {"extra_red": "9 ohm"}}, 'Wiring, extra red: it has no place in the form "one shared resistor"'),
        ({"mast": {"height": "1 mm"}}, "Mast and holes: bottom_lamp, top_lamp and height need to rise"),
        ({"mast": {"height": "18"}}, 'Mast and holes, height needs a length with its unit, for example "18 mm"'),
    ],
)
def test_faults_name_places_as_the_form_does(fields, said):
    with pytest.raises(PlanError) as refusal:
        Plan(**fields)
    (fault,) = in_the_form(refusal.value).faults
    assert fault.startswith(said)


def test_all_faults_are_listed_and_their_text_is_no_markup(planner):
    enter(planner, "drive.current", "<b>")
    enter(planner, "wire.slack", "-1 m")
    assert planner.headline.value.count("<li>") == 2
    assert "&lt;b&gt;" in planner.headline.value


def test_a_file_that_never_arrives_is_refused_by_its_announced_size(planner):
    waiting, row = planner.upload, planner._files_row
    planner.upload_limit.set_state({"announced": [{"content": {}, "name": "<big>.toml", "size": 9_999_999}]})
    assert planner.files.told.value == ""
    planner.upload_limit.set_state({"announced": [{"content": {}, "name": "<big>.toml", "size": 48_000_000}]})
    assert 'role="alert"' in planner.files.told.value
    assert "&lt;big&gt;.toml was not loaded: it is 48.0 MB, and Jupyter takes at most 10 MB" in planner.files.told.value
    assert planner.upload is not waiting
    assert row.children[0] is planner.upload
    assert "Loaded" in upload(planner, Plan(name="East").text())


def test_the_same_file_may_be_loaded_again_and_that_it_was_is_not_said_after_an_edit(planner):
    for _ in range(2):
        assert "Loaded" in upload(planner, Plan(name="Twice").text())
        assert planner.plan.name == "Twice"
        enter(planner, "name", "changed meanwhile")
        assert planner.files.told.value == ""


def test_loading_fills_the_form_and_keeps_the_builders_notes(planner, tmp_path):
    text = '# my own note\nversion = 1\nname = "Quillhaven east" # beloved\n[supply]\nkind = "battery"\n'
    assert "Loaded" in upload(planner, text)
    assert planner.form.fields["supply.part"].widget.value == "9 V alkaline"
    enter(planner, "name", "Quillhaven west")
    press(planner, "Save plan")
    assert (tmp_path / "my_plans" / "east.toml").read_text(encoding="utf-8") == text.replace("east", "west")


LAYOUT = Path(__file__).parents[2] / "notebooks" / "plans" / "quillhaven_layout.toml"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"\xff\xfe", "is not text in UTF-8"),
        (b"", "worn.toml was not loaded"),
        (b'version = 1\n[drive]\ncurrent = "9 mV"\nfoo = "<b>"\n', "the form is as it was:<ul><li>drive.current"),
        (LAYOUT.read_bytes(), "the lesson 7_many_signals_one_adapter opens such a file"),
    ],
)
def test_a_bad_file_changes_nothing_and_every_fault_is_said(planner, content, said):
    before = planner.form.read()
    told = upload(planner, content, "worn.toml")
    assert 'role="alert"' in told
    assert said in told
    assert told.count("<li>drive.") in (0, 2)
    assert planner.form.read() == before
    assert planner.study is not None


def test_a_section_of_a_loaded_plan_stays_through_an_edit_elsewhere(planner):
    own = Plan(evening={"hours": "4 h", "red_share": "70 %"})
    upload(planner, own.text())
    enter(planner, "name", "West home")
    assert (planner.plan.name, planner.plan.evening) == ("West home", own.evening)
    assert "[evening]" in planner.plan.text()
    upload(planner, Plan().text())
    assert planner.plan.evening is None


def test_a_section_that_is_not_used_is_left_out_and_its_switch_brings_it_in(planner):
    form = planner.form
    members = form.sections.children[-2].children[1]
    assert "evening" not in form.read()
    assert (form.sections.titles[-2].endswith("(not used)"), members.layout.display) == (True, "none")
    form.uses["evening"].value = True
    assert (form.sections.titles[-2], members.layout.display) == ("Power for the evening (used)", "")
    assert planner.plan.evening == Plan(evening={}).evening
    enter(planner, "evening.hours", "5 h")
    assert planner.plan.evening.hours == Q("5 h")
    form.uses["evening"].value = False
    assert planner.plan.evening is None
    assert form.fields["evening.hours"].widget.value == "5 h"


def test_findings_and_sheet_show_the_parts_for_evening_and_train(planner):
    enter(planner, "wiring.reversing", "relay")
    planner.form.uses["evening"].value = planner.form.uses["trigger"].value = True
    enter(planner, "trigger.relay", "12 V two-pole")
    assert "reed" in shown(planner, "Findings")
    assert "load of the adapter" in planner.pages["Findings"].value
    pages = []
    planner.pages["Build sheet"].observe(lambda change: pages.append(change["new"]), names="value")
    sheet = shown(planner, "Build sheet")
    assert "Working" in pages[0]
    assert len(pages) == 2
    assert "Hands off" in sheet
    assert "Power for the evening" not in sheet
    planner.annex.value = True
    assert "Power for the evening" in planner.pages["Build sheet"].value


def test_a_figure_whose_band_is_narrower_than_its_digits_is_said_once(planner):
    enter(planner, "drive.tolerance", "0.01 %")
    found = shown(planner, "Findings")
    band = planner.study.figures["shared_resistance"]
    assert band.least < band.most
    assert ">2.2\u00a0kΩ</td>" in found
    enter(planner, "drive.tolerance", "5 %")
    assert ">2.2\u00a0kΩ (2.09\u00a0kΩ to 2.31\u00a0kΩ)</td>" in planner.pages["Findings"].value


def test_the_parts_offered_follow_the_kind_and_own_data_stay(planner):
    kind, part = (planner.form.fields[f"drive.{each}"].widget for each in ("kind", "part"))
    assert part.options == (NONE,)
    for chosen, first in (("regulator", "lm317l"), ("current diode", "1n5314")):
        kind.value = chosen
        assert part.value == planner.plan.drive.part == first
    part.value = OWN
    assert planner.plan.drive.part is None
    kind.value = "resistor"
    assert planner.plan.drive.part is None
    assert planner.study is not None
    kind, part = (planner.form.fields[f"supply.{each}"].widget for each in ("kind", "part"))
    kind.value = "battery"
    assert "6 x AA alkaline" in part.options
    assert "12 V regulated" not in part.options
    part.value = OWN
    kind.value = "adapter"
    assert part.value == OWN


def test_an_edit_changes_plan_headline_and_picture(planner):
    before = planner.pages["Circuit"].value
    enter(planner, "supply.kind", "battery")
    assert planner.plan.supply.part == "9 V alkaline"
    assert planner.pages["Circuit"].value != before
    assert "brightness: They may differ" in planner.headline.value
    enter(planner, "limits.unevenness", "10")
    assert "fine" in planner.headline.value
    enter(planner, "wiring.form", "one in each branch")
    assert "<b>✘ do not build.</b> " in planner.headline.value
    assert planner.headline.value.count("dark green lamp") <= 1  # the topic is named once


def test_one_of_three_heights_may_be_changed_before_the_others(planner):
    picture = planner.pages["Circuit"].value
    enter(planner, "mast.height", "80")
    for said in ("Height is 80 mm now.", "Type top lamp (115 mm) and bottom lamp (95 mm) next", 'role="status"'):
        assert said in planner.headline.value
    assert planner.pages["Circuit"].value == picture
    assert 'role="alert"' in press(planner, "Save plan")  # it would not be what the form says
    enter(planner, "mast.top_lamp", "72 mm")
    assert "Type bottom lamp (95 mm) next" in planner.headline.value
    enter(planner, "mast.bottom_lamp", "60 mm")
    assert planner.plan.mast.height == Q("80 mm")
    for place, height in (("height", "50 mm"), ("top_lamp", "90 mm"), ("bottom_lamp", "95 mm")):
        enter(planner, f"mast.{place}", height)
    assert 'role="alert"' in planner.headline.value  # all three were typed
    assert "sigcalc-faulty" in planner.form.fields["mast.height"].row._dom_classes


def test_a_height_without_a_unit_is_asked_back_with_the_unit_that_makes_a_mast_of_it(planner):
    for typed, meant in (("18", "18 cm"), ("5.5", "5.5 in"), ("18 mm", None), ("80", None)):
        enter(planner, "mast.height", "130 mm")
        enter(planner, "mast.height", typed)
        assert ("Did you mean" in planner.headline.value) == (meant is not None), typed
        assert meant is None or f"Did you mean &quot;{meant}&quot;?" in planner.headline.value


def test_the_heights_to_scale_are_offered_and_taken_in_one_edit(planner):
    form, studied = planner.form, []
    enter(planner, "scale", "N")
    assert "mast to scale" in shown(planner, "Findings")
    assert "look again: mast to scale" in planner.pages["Findings"].value
    # 6.25 m, 5.5 m and 4.6 m over 160: 39.06 mm, 34.4 mm and 28.75 mm
    assert "height 39 mm, top lamp 34 mm, bottom lamp 29 mm" in form._to_scale.value
    assert "from memory" in form._to_scale.value
    redraw = planner.redraw
    form.on_change(lambda: (studied.append(form.read()["mast"]["top_lamp"]), redraw()))
    form.take_heights.click()
    assert studied == ["34 mm"]
    assert planner.plan.mast.top_lamp == Q("34 mm")
    assert "fine: mast to scale" in shown(planner, "Findings")
    enter(planner, "mast.height", "1 5/8 in")
    assert "height 1 9/16 in" in form._to_scale.value
    enter(planner, "scale", "O")
    assert form.take_heights.disabled
    assert form._to_scale.value == ""


def test_a_dozen_drills_are_listed_first_and_all_on_request(planner):
    widget = planner.form.fields["mast.lamp_hole"].widget
    assert len(widget.options) == 13
    assert {"1/8 in", "3.2 mm", "no. 30", "9/64 in"} < set(widget.options)
    widget.value = MORE
    assert (widget.value, len(widget.options) > 200) == ("1/8 in", True)
    widget.value = "5 mm"
    assert planner.plan.mast.lamp_hole == "5 mm"
    upload(planner, Plan(mast={"lamp_hole": "13/64 in"}).text())
    assert widget.value == "13/64 in"


def test_nothing_in_it_scrolls_by_itself(planner):
    boxes = [each for each in _instances.values() if getattr(each, "layout", None) is not None]
    assert not [each for each in boxes if "auto" in (each.layout.overflow or "")]
    assert "onload=" in shown(planner, "Build sheet")  # the sheet's frame grows to its page
    planner.folded.value = True
    assert any("sigcalc-hidden" in getattr(each, "_dom_classes", ()) for each in boxes)


def test_a_fault_greys_the_picture_names_its_field_and_loses_nothing(planner):
    form, good = planner.form, planner.plan
    enter(planner, "supply.part", OWN)
    field = form.fields["supply.voltage"]
    field.widget.value = "9.5 VDC"
    for said in ('role="alert"', "Supply, voltage needs a supply voltage", "type &quot;9.5 V&quot;"):
        assert said in planner.headline.value
    assert (greyed(planner), planner.study, planner.plan) == (True, None, good)
    assert field.widget.value == "9.5 VDC"
    assert "sigcalc-faulty" in field.row._dom_classes
    assert "sigcalc-faulty" not in form.fields["supply.kind"].row._dom_classes
    assert [each for each in form.sections.titles if each.startswith("✘")] == ["✘ Supply"]  # it may be folded
    field.widget.value = "9.5 V"
    assert planner.plan.supply.voltage.m_as("V") == 9.5
    assert planner.pages["Circuit"].value
    assert not greyed(planner)
    assert "sigcalc-faulty" not in field.row._dom_classes
    assert not any(each.startswith("✘") for each in form.sections.titles)


def test_what_cannot_light_is_said_and_not_drawn(planner):
    enter(planner, "supply.part", OWN)
    enter(planner, "supply.voltage", "1.5 V")
    assert "nothing would light" in planner.headline.value
    assert greyed(planner)


def test_text_from_outside_is_escaped_everywhere(planner):
    enter(planner, "name", "<script>alert(1)</script>")
    pages = [planner.headline.value, *(shown(planner, title) for title in planner.views.titles)]
    assert "<script" not in "".join(pages)
    assert (
        "&amp;lt;script&amp;gt;" in planner.pages["Build sheet"].value
    )  # once for the page, once more for the frame around it


def test_own_points_are_seen_beside_the_curve_that_was_fitted_to_them(planner):
    points = [("1.78 V", "1 mA"), ("1.86 V", "5 mA"), ("1.92 V", "12 mA"), ("1.98 V", "20 mA")]
    fitted = Planner(Plan(red={"points": points, "max_current": "30 mA"}))
    curve = shown(fitted, "LED curve")
    assert f"The curve misses the 4 points by {1e3 * fitted.study.pair.red.model.fit.si.residual:.2g} mV" in curve
    fitted.lit.value = "green"
    assert "low-current green 3 mm" in fitted.pages["LED curve"].value
    assert "points" not in fitted.pages["LED curve"].value
    amperes = planner.study.figures["red_current"].nominal
    assert f"At {1e3 * amperes:.3g} mA the voltage is" in shown(planner, "LED curve")


def test_each_tab_shows_its_view_for_the_lamp_called_for_with_the_cautions_of_the_supply(planner):
    planner.lit.value, planner.large.value = "green", True
    assert "sigcalc-large" in planner._dom_classes
    assert "Green is lit" in planner.pages["Circuit"].value
    assert "green, is lit" in shown(planner, "Front view")
    enter(planner, "supply.kind", "battery")
    for said in ("<table ", "Never short a battery", "Do not stare into a bright one"):
        assert said in shown(planner, "Findings")


def test_a_file_of_somebody_else_is_not_replaced_unasked_and_a_second_save_needs_no_leave(planner, tmp_path):
    file = tmp_path / "my_plans" / "my_signal.toml"
    file.parent.mkdir()
    file.write_text("mine", encoding="utf-8")
    assert 'role="alert"' in press(planner, "Save plan")
    assert file.read_text(encoding="utf-8") == "mine"
    planner.files.replace.value = True
    assert "Saved" in press(planner, "Save plan")
    assert Plan.load(file) == planner.plan
    enter(planner, "name", "Quillhaven yard")
    assert "Saved" in press(planner, "Save plan")
    assert Plan.load(file).name == "Quillhaven yard"


@pytest.mark.parametrize(
    ("button", "ending", "begins"),
    [
        ("Save plan", "toml", b""),
        ("Save build sheet", "html", b"<!DOCTYPE html>"),
        ("Save parts list", "csv", b"\xef\xbb\xbfcount,"),
    ],
)
def test_what_an_editor_changed_meanwhile_is_not_replaced_unasked(planner, tmp_path, button, ending, begins):
    assert ("download=" in press(planner, button)) is (ending != "toml")
    file = tmp_path / "my_plans" / f"my_signal.{ending}"
    ours = file.read_bytes()
    assert ours.startswith(begins)
    file.write_bytes(ours + b"# from an editor\n")
    told = press(planner, button)
    assert 'role="alert"' in told
    assert "changed elsewhere since you saved it here" in told
    assert file.read_bytes() == ours + b"# from an editor\n"
    planner.files.replace.value = True
    assert "Saved" in press(planner, button)
    assert file.read_bytes() == ours
    file.write_bytes(b"changed again")
    assert "changed elsewhere" in press(planner, button)  # leave was given once


def test_a_save_says_which_changes_it_holds(planner):
    assert press(planner, "Save plan") == '<p role="status">Saved my_plans/my_signal.toml.</p>'
    for name, drawer, used, news in (
        ("East & West", "1.5 kohm, 3.3 kohm", True, ("East &amp; West", "drawer: 1.5 kohm, 3.3 kohm", "evening: used")),
        ("East", "", False, ("name: East", "drawer: empty", "evening: not used")),
    ):
        enter(planner, "name", name)
        enter(planner, "drive.drawer", drawer)
        planner.form.uses["evening"].value = used
        for button in ("Save build sheet", "Save plan"):
            told = press(planner, button)
            assert [each for each in news if each not in told] == []
        assert "changes" not in press(planner, "Save plan")
    upload(planner, Plan(name="East").text())
    assert "changes" not in press(planner, "Save plan")


def test_what_is_said_while_a_save_waits_stays_until_it_is_done(planner):
    (button,) = [each for each in planner.files.buttons if each.description == "Save plan"]
    button._handle_custom_msg({"event": "click"}, [])
    assert "Saving ..." in planner.files.told.value
    enter(planner, "name", "West")  # what the browser had held back
    assert "Saving ..." in planner.files.told.value
    button.set_state({"due": button.pressed})
    assert "Saved my_plans/my_signal.toml" in planner.files.told.value
    assert "name: West" in planner.files.told.value
    enter(planner, "name", "East")
    assert planner.files.told.value == ""


def test_a_field_reports_when_it_is_left_and_a_fault_never_touches_it(planner):
    """A change of a text's own model, even of its class, makes the browser throw away what is being typed there."""
    typed = [field.widget for field in planner.form.fields.values() if hasattr(field.widget, "continuous_update")]
    assert len(typed) > 20
    assert not any(each.continuous_update for each in (*typed, planner.files.path))
    touched = []
    for each in typed:
        each.observe(touched.append)
    enter(planner, "drive.kind", "constant current")
    enter(planner, "wire.slack", "-1 m")
    assert planner.study is None
    assert {change["owner"] for change in touched} == {planner.form.fields["wire.slack"].widget}


def test_a_page_that_fails_half_way_leaves_the_old_one(planner, tmp_path, monkeypatch):
    press(planner, "Save build sheet")
    page = tmp_path / "my_plans" / "my_signal.html"
    before = page.read_bytes()

    def fail(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", fail)
    enter(planner, "name", "Quillhaven yard")
    assert "No space left on device; the old file is untouched" in press(planner, "Save build sheet")
    assert page.read_bytes() == before
    assert list(page.parent.iterdir()) == [page]


@pytest.mark.parametrize(
    "name", ["", "x.txt", "plan", "a\0b.toml", "<i>.html", "a" * 300 + ".toml", "con.toml", "\ud800.toml"]
)
def test_a_bad_file_name_is_refused_in_a_sentence(planner, tmp_path, name):
    planner.files.path.value = name
    told = press(planner, "Save plan")
    assert 'role="alert"' in told
    assert "<i>" not in told
    assert list(tmp_path.iterdir()) == []


def test_a_faulty_plan_is_not_written(planner, tmp_path):
    enter(planner, "drive.current", "8")
    for text in ("Save plan", "Save build sheet", "Save parts list"):
        assert 'role="alert"' in press(planner, text)
    assert list(tmp_path.iterdir()) == []


def test_a_defect_is_shown_and_raised(planner, monkeypatch):
    monkeypatch.setattr(Plan, "study", lambda _: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        planner.redraw()
    assert "ZeroDivisionError" in planner.headline.value
    assert greyed(planner)


def test_opening_it_is_far_fewer_messages_than_a_socket_keeps_waiting():
    """ZeroMQ drops what is beyond the thousandth that waits; each widget, layout and style is a message or two."""
    assert Planner(Plan(name="Yard")).form.fields["name"].widget.value == "Yard"  # what all forms share is there now
    known = set(_instances)
    Planner()
    assert len(set(_instances) - known) < 450
