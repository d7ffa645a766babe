"""The test page: every reading in one row with both positions, every fault in words."""

import pytest

from sigcalc import Plan
from sigcalc.plan.bench_readings import fault_table
from sigcalc.views.sheet import bench_page, build_sheet

TRAIN = Plan(wiring={"reversing": "relay"}, trigger={"relay": "12 V two-pole"})


@pytest.fixture(scope="module", params=[Plan(), TRAIN], ids=["switch", "train"])
def test(request):
    return request.param.study().bench_test


def test_each_reading_stands_in_one_row_under_its_position(test):
    page = bench_page(test)
    stages = (page.supply, *page.stages)
    rows = {row.name: row for stage in stages for row in stage.rows}
    assert len(rows) == sum(len(stage.rows) for stage in stages)
    for reading in test.readings:
        row = rows[reading.base]
        assert row.shown[reading.lamp] == reading.shown
        assert (row.where, row.setting) == (reading.where, reading.setting)
    assert sum(len(row.shown) for row in rows.values()) == len(test.readings)


def test_stages_change_the_power_once(test):
    stages = bench_page(test).stages
    assert [stage.name for stage in stages] == ["with the power on", "with the power off", "the current, last of all"]
    assert {row.setting for row in stages[1].rows} == {"ohms", "diode test"}
    assert {row.setting for row in stages[2].rows} == {"DC milliamperes"}


def test_signs_stand_below_their_reading_with_the_position(test):
    page, table = bench_page(test), fault_table(test)
    rows = [row for stage in (page.supply, *page.stages) for row in stage.rows]
    told = {(row.name, each.lamp, each.reads): each.faults for row in rows for each in row.otherwise}
    named = {each.name: each.base for each in test.readings}
    for signs in table.signs.values():
        for sign in signs:
            faults = told[named[sign.point.name], sign.point.position, sign.text]
            assert all(fault in faults for fault in sign.faults)


def test_the_supply_is_read_before_it_feeds_anything(test):
    page = bench_page(test)
    assert [row.name for row in page.supply.rows] == ["supply AC", "supply open"]
    assert page.supply.rows[0].otherwise[0].faults == "adapter gives AC"
    sheet = build_sheet((Plan() if test.circuit.relay is None else TRAIN).study())
    places = [
        sheet.index(each)
        for each in (page.supply.name, "First look, with the power on", f'"col">{page.stages[0].name}<')
    ]
    assert places == sorted(places)


def test_what_glares_is_to_be_switched_off(test):
    page = bench_page(test)
    assert {"resistor bridged", "resistor ten times too small"} <= set(page.glaring.split("; "))
    assert "resistor open" not in page.glaring
    assert "adapter unregulated" not in page.glaring


def test_each_remedy_stands_once_with_all_its_faults(test):
    page = bench_page(test)
    named = [name for names in page.remedies for name in names.split("; ")]
    assert sorted(named) == sorted(fault_table(test).remedies)
    assert len(set(page.remedies.values())) == len(page.remedies)


def test_looks_are_words(test):
    page = bench_page(test)
    assert page.right == ("red", "green")
    assert ("both dark", "both dark") in [row.seen for row in page.looks]
    assert all(row.faults for row in page.looks)
    assert "cold joint" in page.hidden


def test_the_sheet_says_where_the_coil_and_the_timer_are_read_and_how_it_is_set():
    sheet = build_sheet(TRAIN.study())
    said = ("timer output", "reed under the train", "across the relay", "set by its scale", "pot at its low end")
    for each in (*said, "roll the train&#39;s magnet over the reed"):
        assert each in sheet


def test_no_page_where_nothing_limits_the_current():
    bare = Plan(drive={"resistance": "0 ohm"})
    sheet = build_sheet(bare.study())
    assert 'id="readings"' not in sheet
    assert "There are no test readings" in sheet
