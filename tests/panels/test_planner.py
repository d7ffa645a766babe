"""The planner in process: edits, faults, files; nothing typed is lost and no file is replaced unasked."""

import datetime
from pathlib import Path

import pytest
from ipywidgets.widgets.widget import _instances

from sigcalc import Plan, PlanError, Q
from sigcalc.panels.plan_form import NONE, OWN, PlanForm
from sigcalc.panels.planner import Planner
from sigcalc.plan.model import TITLES

WHEN = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)


@pytest.fixture
def planner(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return Planner()


def press(planner, text):
    """Press the button of this text, as the browser does."""
    (button,) = [each for each in _members(planner) if getattr(each, "description", "") == text]
    button.click()
    return planner.told.value


def open_tab(planner, title):
    planner.views.selected_index = planner.views.titles.index(title)


def _members(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from _members(child)


def upload(planner, content, name="east.toml"):
    planner.upload.value = (
        {"name": name, "type": "", "size": len(content), "last_modified": WHEN, "content": memoryview(content)},
    )
    return planner.told.value


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
    form.write(plan)
    assert Plan(**form.read()) == plan
    driven = Plan(drive={"kind": "regulator", "part": "lm317"}, trigger={})
    form.write(driven)
    assert Plan(**form.read()) == driven


def test_every_field_of_the_plan_has_an_input_with_a_name_and_a_note():
    form = PlanForm()
    for place, field in form.fields.items():
        assert field.widget.description, place
        assert field.widget.tooltip, place
    sections = {place.split(".")[0] for place in form.fields}
    assert sections == set(Plan.model_fields) - {"version"}
    assert set(form.uses) == {name for name, info in Plan.model_fields.items() if info.default is None}


def test_a_broken_file_is_refused_with_every_fault_in_a_list_and_the_form_stays(planner):
    before = planner.form.read()
    told = upload(planner, b'version = 1\n[drive]\ncurrent = "9 mV"\nfoo = "<b>"\n', "worn.toml")
    assert 'role="alert"' in told
    assert "worn.toml was not loaded, and the form is as it was:<ul>" in told
    assert told.count("<li>drive.") == 2
    assert planner.form.read() == before


def test_a_file_that_never_arrives_is_refused_by_its_announced_size(planner):
    waiting, row = planner.upload, planner._files_row
    planner.upload_limit.set_state({"announced": [{"content": {}, "name": "<big>.toml", "size": 9_999_999}]})
    assert planner.told.value == ""
    planner.upload_limit.set_state({"announced": [{"content": {}, "name": "<big>.toml", "size": 48_000_000}]})
    assert 'role="alert"' in planner.told.value
    assert "&lt;big&gt;.toml was not loaded: it is 48.0 MB, and Jupyter takes at most 10 MB" in planner.told.value
    assert planner.upload is not waiting
    assert row.children[0] is planner.upload
    assert "Loaded" in upload(planner, Plan(name="East").text().encode())


def test_a_layout_is_told_from_a_plan(planner):
    layout = Path(__file__).parents[2] / "notebooks" / "plans" / "quillhaven_layout.toml"
    told = upload(planner, layout.read_bytes(), layout.name)
    assert "many_signals_one_adapter" in told
    assert "no field of a plan" not in told


def test_what_was_loaded_is_not_said_any_more_after_an_edit(planner):
    assert "Loaded" in upload(planner, Plan(name="East").text().encode())
    planner.form.fields["name"].widget.value = "West"
    assert planner.told.value == ""


def test_the_same_file_may_be_loaded_again(planner):
    content = Plan(name="Twice").text().encode()
    for _ in range(2):
        upload(planner, content)
        assert planner.plan.name == "Twice"
        planner.form.fields["name"].widget.value = "changed meanwhile"


def test_the_note_of_a_field_can_be_read_whole_and_an_empty_field_shows_what_to_type():
    fields = PlanForm().fields
    note = fields["red.max_reverse_voltage"].row.children[1].value
    assert Plan.model_fields["red"].annotation.model_fields["max_reverse_voltage"].description in note
    assert fields["red.max_reverse_voltage"].widget.placeholder == "such as 5 V"
    assert fields["drive.drawer"].widget.placeholder == "such as 470 ohm, 1 kohm"
    assert all("," in line for line in fields["red.points"].widget.placeholder.splitlines())
    assert len(fields["wiring.reversing"].row.children) == 1  # its list shows the words to choose from
    longest = max(len(getattr(each.widget, "placeholder", "")) for each in fields.values())
    assert longest <= 30  # what the narrow column shows whole


def test_a_fault_is_shown_in_the_title_of_its_section_for_it_may_be_folded(planner):
    def titles():
        return [planner.form.sections.get_title(place) for place in range(len(planner.form.sections.children))]

    sound = titles()
    planner.form.fields["drive.current"].widget.value = "9 mV"
    assert [each for each in titles() if each not in sound] == ["✘ Current and resistor"]
    planner.form.fields["drive.current"].widget.value = "5 mA"
    assert titles() == sound


def test_the_headline_names_a_topic_once(planner):
    planner.form.fields["wiring.form"].widget.value = "one in each branch"
    assert "<b>✘ do not build.</b> " in planner.headline.value
    assert planner.headline.value.count("dark green lamp") <= 1


def test_a_section_of_a_loaded_plan_stays_through_an_edit_elsewhere(planner):
    own = Plan(evening={"hours": "4 h", "red_share": "70 %"})
    upload(planner, own.text().encode())
    assert planner.study is not None, planner.headline.value
    planner.form.fields["name"].widget.value = "West home"
    assert planner.plan.name == "West home"
    assert planner.plan.evening == own.evening
    assert "[evening]" in planner.plan.text()
    upload(planner, Plan().text().encode())
    assert planner.plan.evening is None


def test_a_section_that_is_not_used_is_left_out_and_its_switch_brings_it_in(planner):
    form = planner.form
    assert "evening" not in form.read()
    assert form.sections.titles[-2].endswith("(not used)")
    members = form.sections.children[-2].children[1]
    assert members.layout.display == "none"
    form.uses["evening"].value = True
    assert form.sections.titles[-2] == "Power for the evening (used)"
    assert members.layout.display == ""
    assert planner.plan.evening == Plan(evening={}).evening
    form.fields["evening.hours"].widget.value = "5 h"
    assert planner.plan.evening.hours == Q("5 h")
    form.uses["evening"].value = False
    assert planner.plan.evening is None
    assert form.fields["evening.hours"].widget.value == "5 h"


def test_findings_and_sheet_show_the_parts_for_evening_and_train(planner):
    form = planner.form
    form.fields["wiring.reversing"].widget.value = "relay"
    form.uses["evening"].value = form.uses["trigger"].value = True
    form.fields["trigger.relay"].widget.value = "12 V two-pole"
    open_tab(planner, "Findings")
    assert "reed" in planner.findings.value
    assert "load of the adapter" in planner.findings.value
    shown = []
    planner.sheet.observe(lambda change: shown.append(change["new"]), names="value")
    open_tab(planner, "Build sheet")
    assert "Working" in shown[0]
    assert len(shown) == 2
    for heading in ("Power for the evening", "Hands off"):
        assert heading in planner.sheet.value


def test_a_figure_whose_band_is_narrower_than_its_digits_is_said_once(planner):
    planner.form.fields["drive.tolerance"].widget.value = "0.01 %"
    open_tab(planner, "Findings")
    band = planner.study.figures["shared_resistance"]
    assert band.least < band.most
    assert "<td>2.2 kΩ</td>" in planner.findings.value
    assert "(2.2 kΩ to 2.2 kΩ)" not in planner.findings.value
    planner.form.fields["drive.tolerance"].widget.value = "5 %"
    assert "<td>2.2 kΩ (2.09 kΩ to 2.31 kΩ)</td>" in planner.findings.value


def test_drivers_follow_the_kind_of_drive(planner):
    kind, part = (planner.form.fields[f"drive.{each}"].widget for each in ("kind", "part"))
    assert part.options == (NONE,)
    kind.value = "regulator"
    assert part.value == planner.plan.drive.part == "lm317l"
    kind.value = "current diode"
    assert part.value == planner.plan.drive.part == "1n5314"
    part.value = OWN
    assert planner.plan.drive.part is None
    kind.value = "resistor"
    assert planner.plan.drive.part is None
    assert planner.study is not None


def test_a_fault_in_an_optional_section_marks_its_field(planner):
    planner.form.uses["trigger"].value = True
    gap = planner.form.fields["trigger.gap"]
    gap.widget.value = "5 V"
    assert "sigcalc-faulty" in gap.row._dom_classes
    assert planner.circuit.value == ""
    gap.widget.value = "6 mm"
    assert "sigcalc-faulty" not in gap.row._dom_classes
    assert planner.plan.trigger.gap == Q("6 mm")


def test_an_edit_changes_plan_headline_and_picture(planner):
    before = planner.circuit.value
    planner.form.fields["supply.kind"].widget.value = "battery"
    assert planner.plan.supply.part == "9 V alkaline"
    assert planner.circuit.value != before
    assert "brightness: They may differ" in planner.headline.value
    planner.form.fields["limits.unevenness"].widget.value = "10"
    assert "fine" in planner.headline.value


def test_the_parts_offered_follow_the_kind_of_supply(planner):
    part = planner.form.fields["supply.part"].widget
    planner.form.fields["supply.kind"].widget.value = "battery"
    assert "6 x AA alkaline" in part.options
    assert "12 V regulated" not in part.options
    part.value = OWN
    planner.form.fields["supply.kind"].widget.value = "adapter"
    assert part.value == OWN


def test_a_fault_blanks_the_picture_names_its_field_and_loses_nothing(planner):
    good = planner.plan
    planner.form.fields["supply.part"].widget.value = OWN
    voltage = planner.form.fields["supply.voltage"].widget
    voltage.value = "9.5 VDC"
    assert 'role="alert"' in planner.headline.value
    assert "Supply, voltage needs a supply voltage" in planner.headline.value
    assert "type &quot;9.5 V&quot;" in planner.headline.value
    assert planner.circuit.value == ""
    assert planner.study is None
    assert voltage.value == "9.5 VDC"
    assert "sigcalc-faulty" in planner.form.fields["supply.voltage"].row._dom_classes
    assert "sigcalc-faulty" not in planner.form.fields["supply.kind"].row._dom_classes
    assert planner.plan is good
    voltage.value = "9.5 V"
    assert planner.plan.supply.voltage.m_as("V") == 9.5
    assert planner.circuit.value
    assert "sigcalc-faulty" not in planner.form.fields["supply.voltage"].row._dom_classes


def test_what_cannot_light_is_said_and_not_drawn(planner):
    planner.form.fields["supply.part"].widget.value = OWN
    planner.form.fields["supply.voltage"].widget.value = "1.5 V"
    assert "nothing would light" in planner.headline.value
    assert planner.circuit.value == ""


def test_text_from_outside_is_escaped_everywhere(planner):
    planner.form.fields["name"].widget.value = "<script>alert(1)</script>"
    for title in planner.views.titles:
        open_tab(planner, title)
    pages = (planner.headline, planner.circuit, planner.findings, planner.led, planner.front)
    shown = "".join(each.value for each in pages)
    assert "<script" not in shown
    assert "<script" not in planner.sheet.value
    assert "&amp;lt;script&amp;gt;" in planner.sheet.value  # once for the page, once more for the frame around it


def test_own_points_are_seen_beside_the_curve_that_was_fitted_to_them(planner):
    points = [("1.78 V", "1 mA"), ("1.86 V", "5 mA"), ("1.92 V", "12 mA"), ("1.98 V", "20 mA")]
    shown = Planner(Plan(red={"points": points, "max_current": "30 mA"}))
    open_tab(shown, "LED curve")
    fit = shown.study.pair.red.model.fit
    assert f"The curve misses the 4 points by {1e3 * fit.si.residual:.2g} mV" in shown.led.value
    shown.lit.value = "green"
    assert "green low-current 3 mm" in shown.led.value
    assert "points" not in shown.led.value
    open_tab(planner, "LED curve")
    amperes = planner.study.figures["red_current"].nominal
    assert f"At {1e3 * amperes:.3g} mA the voltage is" in planner.led.value


def test_each_tab_shows_its_view_for_the_lamp_called_for(planner):
    planner.lit.value = "green"
    assert "Green is lit" in planner.circuit.value
    open_tab(planner, "Front view")
    assert "green, is lit" in planner.front.value
    open_tab(planner, "Findings")
    assert "<table>" in planner.findings.value


def test_save_writes_the_plan_and_a_second_save_needs_no_leave(planner, tmp_path):
    assert "Saved" in press(planner, "Save plan")
    file = tmp_path / "my_plans" / "my_signal.toml"
    assert Plan.load(file) == planner.plan
    planner.form.fields["name"].widget.value = "Quillhaven yard"
    assert "Saved" in press(planner, "Save plan")
    assert Plan.load(file).name == "Quillhaven yard"


def test_a_file_of_somebody_else_is_not_replaced_unasked(planner, tmp_path):
    file = tmp_path / "my_plans" / "my_signal.toml"
    file.parent.mkdir()
    file.write_text("mine", encoding="utf-8")
    assert 'role="alert"' in press(planner, "Save plan")
    assert file.read_text(encoding="utf-8") == "mine"
    planner.replace.value = True
    assert "Saved" in press(planner, "Save plan")
    assert Plan.load(file) == planner.plan


@pytest.mark.parametrize(
    ("button", "ending"), [("Save plan", "toml"), ("Save build sheet", "html"), ("Save parts list", "csv")]
)
def test_what_an_editor_changed_meanwhile_is_not_replaced_unasked(planner, tmp_path, button, ending):
    press(planner, button)
    file = tmp_path / "my_plans" / f"my_signal.{ending}"
    ours = file.read_bytes()
    file.write_bytes(ours + b"# from an editor\n")
    told = press(planner, button)
    assert 'role="alert"' in told
    assert "changed elsewhere since you saved it here" in told
    assert file.read_bytes() == ours + b"# from an editor\n"
    planner.replace.value = True
    assert "Saved" in press(planner, button)
    assert file.read_bytes() == ours
    file.write_bytes(b"changed again")
    assert "changed elsewhere" in press(planner, button)  # leave was given once


def test_a_save_says_which_changes_it_holds(planner):
    fields = planner.form.fields
    assert press(planner, "Save plan") == '<p role="status">Saved my_plans/my_signal.toml.</p>'
    fields["drive.current"].widget.value = "3 mA"
    fields["name"].widget.value = "East & West"
    fields["drive.drawer"].widget.value = "1.5 kohm, 3.3 kohm"
    planner.form.uses["evening"].value = True
    for button in ("Save build sheet", "Save plan"):
        told = press(planner, button)
        assert "Current and resistor, current: 3 mA" in told
        assert "name: East &amp; West" in told
        assert "drawer: 1.5 kohm, 3.3 kohm" in told
        assert f"{TITLES['evening']}: used" in told
    assert "changes" not in press(planner, "Save plan")
    planner.form.uses["evening"].value = False
    fields["drive.drawer"].widget.value = ""
    told = press(planner, "Save plan")
    assert f"{TITLES['evening']}: not used" in told
    assert "drawer: empty" in told
    upload(planner, Plan(name="East").text().encode())
    assert "changes" not in press(planner, "Save plan")


def test_what_is_said_while_a_save_waits_stays_until_it_is_done(planner):
    (button,) = [each for each in planner.buttons if each.description == "Save plan"]
    button._handle_custom_msg({"event": "click"}, [])
    assert "Saving what the form shows" in planner.told.value
    planner.form.fields["name"].widget.value = "West"  # what the browser had held back
    assert "Saving what the form shows" in planner.told.value
    button.set_state({"due": button.pressed})
    assert "Saved my_plans/my_signal.toml" in planner.told.value
    assert "name: West" in planner.told.value
    planner.form.fields["name"].widget.value = "East"
    assert planner.told.value == ""


def test_a_field_reports_when_it_is_left_and_a_fault_never_touches_it(planner):
    """A change of a text's own model, even of its class, makes the browser throw away what is being typed there."""
    typed = [field.widget for field in planner.form.fields.values() if hasattr(field.widget, "continuous_update")]
    assert len(typed) > 20
    assert not any(each.continuous_update for each in (*typed, planner.path))
    touched = []
    for each in typed:
        each.observe(touched.append)
    planner.form.fields["drive.kind"].widget.value = "constant current"
    planner.form.fields["mast.height"].widget.value = "-1 m"
    assert planner.study is None
    assert {change["owner"] for change in touched} == {planner.form.fields["mast.height"].widget}


def test_sheet_and_parts_list_are_written_beside_the_plan(planner, tmp_path):
    assert "download=" in press(planner, "Save build sheet")
    assert "download=" in press(planner, "Save parts list")
    assert (tmp_path / "my_plans" / "my_signal.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert (tmp_path / "my_plans" / "my_signal.csv").read_bytes().startswith(b"\xef\xbb\xbfcount,")


def test_a_page_that_fails_half_way_leaves_the_old_one(planner, tmp_path, monkeypatch):
    press(planner, "Save build sheet")
    page = tmp_path / "my_plans" / "my_signal.html"
    before = page.read_bytes()

    def fail(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", fail)
    planner.form.fields["name"].widget.value = "Quillhaven yard"
    assert "No space left on device; the old file is untouched" in press(planner, "Save build sheet")
    assert page.read_bytes() == before
    assert list(page.parent.iterdir()) == [page]


@pytest.mark.parametrize(
    "name", ["", "x.txt", "plan", "a\0b.toml", "<b>.html", "a" * 300 + ".toml", "con.toml", "\ud800.toml"]
)
def test_a_bad_file_name_is_refused_in_a_sentence(planner, tmp_path, name):
    planner.path.value = name
    told = press(planner, "Save plan")
    assert 'role="alert"' in told
    assert "<b>" not in told
    assert list(tmp_path.iterdir()) == []


def test_a_faulty_plan_is_not_written(planner, tmp_path):
    planner.form.fields["drive.current"].widget.value = "8"
    for text in ("Save plan", "Save build sheet", "Save parts list"):
        assert 'role="alert"' in press(planner, text)
    assert list(tmp_path.iterdir()) == []


def test_loading_fills_the_form_and_keeps_the_builders_notes(planner, tmp_path):
    text = '# my own note\nversion = 1\nname = "Quillhaven east" # beloved\n[supply]\nkind = "battery"\n'
    assert "Loaded" in upload(planner, text.encode())
    assert planner.form.fields["name"].widget.value == "Quillhaven east"
    assert planner.form.fields["supply.part"].widget.value == "9 V alkaline"
    planner.form.fields["name"].widget.value = "Quillhaven west"
    press(planner, "Save plan")
    saved = (tmp_path / "my_plans" / "east.toml").read_text(encoding="utf-8")
    assert saved == text.replace("east", "west")


@pytest.mark.parametrize("content", [b"\xff\xfe", b"version = 1\nnam = 3\n", b"[[[", b""])
def test_a_bad_file_changes_nothing_and_says_why(planner, content):
    before = planner.form.read()
    told = upload(planner, content)
    assert 'role="alert"' in told
    assert planner.form.read() == before
    assert planner.study is not None


def test_large_type_reaches_picture_and_fields(planner):
    planner.large.value = True
    assert "sigcalc-large" in planner._dom_classes


def test_a_defect_is_shown_and_raised(planner, monkeypatch):
    def broken(_):
        raise KeyError("oops")

    monkeypatch.setattr(Plan, "study", broken)
    with pytest.raises(KeyError):
        planner.redraw()
    assert "oops" in planner.headline.value
    assert planner.circuit.value == ""


def test_a_planner_opens_with_a_plan_of_ones_own():
    planner = Planner(Plan(name="Quillhaven yard"))
    assert planner.form.fields["name"].widget.value == "Quillhaven yard"
    with pytest.raises(PlanError):
        Plan(name="")


def test_opening_it_is_far_fewer_messages_than_a_socket_keeps_waiting():
    """ZeroMQ drops what is beyond the thousandth that waits; each widget, layout and style is a message or two."""
    Planner()  # so that what all forms share is there
    known = set(_instances)
    Planner()
    assert len(set(_instances) - known) < 450


def test_the_cautions_of_the_supply_stand_with_the_findings(planner):
    planner.form.fields["supply.kind"].widget.value = "battery"
    open_tab(planner, "Findings")
    assert "Never short a battery" in planner.findings.value
    assert "Do not stare into a bright one" in planner.findings.value
