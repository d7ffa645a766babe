"""The study's small records: bands in words, and the parts list as a spreadsheet reads it."""

import csv
import dataclasses
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc import Plan
from sigcalc.plan.result import Figure, PartLine


def rows(study):
    return list(csv.reader(io.StringIO(study.parts_csv(), newline="")))


def test_a_band_in_words():
    assert Figure(1.0e-3, 1.2e-3, 1.5e-3, "A", "x").text == "1.2 mA (1 mA to 1.5 mA)"
    assert Figure(2.0, 2.0, 2.0, "V", "x").text == "2 V"


def test_a_band_as_plain_data():
    assert Figure(1.0, 2.0, 3.0, "V", "x", "the supply").to_dict() == {
        "label": "x",
        "least": {"value": 1.0, "unit": "V"},
        "nominal": {"value": 2.0, "unit": "V"},
        "most": {"value": 3.0, "unit": "V"},
        "depends_on": "the supply",
    }


def test_the_parts_list_as_csv():
    study = Plan().study()
    head, *lines = rows(study)
    assert head == ["count", "part", "detail", "colour bands", "note"]
    assert len(lines) == len(study.parts)
    resistor = next(line for line in lines if line[1] == "resistor, shared")
    assert resistor[3] == "red red red gold"
    assert all(line[0].isdigit() for line in lines)
    assert study.parts_csv().endswith("\r\n")


@pytest.mark.parametrize(
    "cell",
    [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        " =1",
        "\t=1",
        "\r=1",
        "\n=1",
        "\uff1d1+1",
        "\uff0b1",
        "\uff0d1",
        "\uff20A1",
        "=cmd|' /C calc'!A0",
        '=HYPERLINK("http://x")',
    ],
)
def test_no_cell_is_a_formula(cell):
    study = dataclasses.replace(Plan().study(), parts=(PartLine(1, cell, cell, (), cell),))
    for said in rows(study)[1][1:]:
        assert not said or said.startswith("'")


@given(st.text(max_size=20))
def test_any_cell_comes_back_as_it_was_or_behind_an_apostrophe(cell):
    study = dataclasses.replace(STUDY, parts=(PartLine(1, cell, "x", (), "y"),))
    (_, said, *_rest) = rows(study)[1]
    assert said in (cell, f"'{cell}")
    assert said.lstrip()[:1] not in ("=", "+", "-", "@")


STUDY = Plan().study()
