"""The test page: every reading in one row with both positions, every fault in words."""

import pytest

from sigcalc import Plan
from sigcalc.plan.bench_readings import fault_table
from sigcalc.views.sheet import bench_page, build_sheet

TRAIN = Plan(wiring={"reversing": "relay"}, trigger={"relay": "12 V two-pole"})


@pytest.fixture(scope="module", params=[Plan(), TRAIN], ids=["switch", "train"])
def test(request):
    return request.param.study().bench_test


def test_each_reading_is_in_one_row_with_both_positions(test):
    stages = bench_page(test)["stages"]
    rows = [(base, row) for stage in stages.values() for base, row in stage.items()]
    assert len({base for base, _ in rows}) == len(rows)
    assert [each for _, row in rows for each in row] == sorted(test.readings, key=[e for _, r in rows for e in r].index)
    for base, row in rows:
        assert {each.base for each in row} == {base}
        assert len({(each.where, each.setting) for each in row}) == 1


def test_stages_change_the_power_once(test):
    _, on, off, current = bench_page(test)["stages"].items()
    assert [on[0], off[0], current[0]] == ["with the power on", "with the power off", "the current, last of all"]
    assert {each.setting for row in off[1].values() for each in row} == {"ohms", "diode test"}
    assert {each.setting for row in current[1].values() for each in row} == {"DC milliamperes"}


def test_signs_are_below_their_reading_with_the_position(test):
    sheet = build_sheet((Plan() if test.circuit.relay is None else TRAIN).study())
    for name, signs in fault_table(test).signs.items():
        lamp = next(each.lamp for each in test.readings if each.name == name)
        for sign in signs:
            position = f"Set for {lamp}, " if lamp else ""
            assert f"{position}<b>{sign.text}</b>: {'; '.join(sign.faults)}." in sheet


def test_the_supply_is_read_before_it_feeds_anything(test):
    page = bench_page(test)
    first, second = list(page["stages"])[:2]
    assert list(page["stages"][first]) == ["supply AC", "supply open"]
    assert page["signs"]["supply AC"][0][2] == "adapter gives AC"
    sheet = build_sheet((Plan() if test.circuit.relay is None else TRAIN).study())
    places = [sheet.index(each) for each in (first, "First look, with the power on", f'"col">{second}<')]
    assert places == sorted(places)


def test_what_glares_is_to_be_switched_off(test):
    page = bench_page(test)
    assert {"resistor bridged", "resistor ten times too small"} <= set(page["glaring"].split("; "))
    assert "resistor open" not in page["glaring"]
    assert "adapter unregulated" not in page["glaring"]


def test_each_remedy_stands_once_with_all_its_faults(test):
    page = bench_page(test)
    named = [name for names in page["remedies"] for name in names.split("; ")]
    assert sorted(named) == sorted(fault_table(test).remedies)
    assert len(set(page["remedies"].values())) == len(page["remedies"])


def test_looks_are_words(test):
    page = bench_page(test)
    assert page["right"] == ("red", "green")
    assert ("both dark", "both dark") in [row[:2] for row in page["looks"]]
    assert all(row[2] for row in page["looks"])
    assert "cold joint" in page["hidden"]


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
