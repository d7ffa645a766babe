"""The build sheet's part on the power for the evening."""

import html
import re

from sigcalc import Plan
from sigcalc.views.sheet import build_sheet

BATTERY = {"kind": "battery", "part": "9 V alkaline"}
RELAY = {"relay": "9 V two-pole sensitive", "standby": "6 mA"}


def part_of(page):
    return re.search(r'<section aria-labelledby="evening">.*?</section>', page, re.S)


def test_without_the_section_the_sheet_has_no_such_part():
    assert part_of(build_sheet(Plan().study())) is None


def test_run_and_charge_stand_on_the_sheet():
    study = Plan(supply=BATTERY, evening=RELAY, wiring={"reversing": "relay"}).study()
    part = part_of(build_sheet(study)).group().replace("\xa0", " ")
    for band in study.evening.figures.values():
        assert band.text in part
    assert "3 h an evening, one in 7 days; red for 50 % of the time; relay 9 V two-pole sensitive" in part


def test_an_adapter_of_a_bare_voltage_has_no_figures():
    part = part_of(build_sheet(Plan(supply={"voltage": "9 V"}, evening={}).study())).group()
    assert "<table>" not in part
    assert "no relay" in part


def test_hands_off_stands_on_the_sheet_only_where_a_train_sets_the_signal():
    study = Plan(trigger={"relay": "12 V two-pole"}, wiring={"reversing": "relay"}).study()
    page = build_sheet(study).replace("\xa0", " ")
    (part,) = re.findall(r'<section aria-labelledby="trigger">.*?</section>', page, re.S)
    for word, place in study.trigger.positions:
        assert f">{word}</th>" in part
        assert place.replace("'", "&#39;") in part
    assert "swallowed" in part
    assert study.trigger.figures["reed_closed"].text in part
    assert part.count("<svg") == 3
    assert html.escape(study.trigger.passing.sentence) in part
    unnamed = build_sheet(Plan(trigger={}, wiring={"reversing": "relay"}).study())
    assert "<svg" not in unnamed[unnamed.index('aria-labelledby="trigger"') :]
    assert 'aria-labelledby="trigger"' not in build_sheet(Plan().study())
