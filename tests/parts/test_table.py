"""The tables of parts: every row of every data file, and the mapping that reads them."""

import csv
from fractions import Fraction
from importlib.resources import files

import pytest

from sigcalc.errors import UnknownNameError
from sigcalc.parts.table import PartsTable, read_figures, unknown
from sigcalc.units import Q

DATA = files("sigcalc.parts").joinpath("data")
COLUMNS = ["part", "quantity", "value", "unit", "source", "note"]


# tables of words, not of figures: their own tests read them (tests/parts/test_measuring_point.py, test_meter.py)
OF_WORDS = {"measuring_points.csv"}


def csv_files():
    names = {each.name for each in DATA.iterdir() if each.name.endswith(".csv")}
    assert names >= OF_WORDS
    return sorted(names - OF_WORDS)


def rows_of(name):
    with DATA.joinpath(name).open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


@pytest.mark.parametrize("name", csv_files())
class TestEveryRow:
    def test_columns(self, name):
        head, *rows = rows_of(name)
        assert head == COLUMNS
        assert rows
        assert {len(row) for row in rows} == {len(COLUMNS)}

    def test_each_has_part_quantity_value_and_source(self, name):
        for part, quantity, value, _, source, _ in rows_of(name)[1:]:
            assert part, (name, quantity)
            assert quantity, (name, part)
            assert value, (name, part, quantity)
            assert source, (name, part, quantity)
            assert "memory" not in source or "from memory" in source, (name, part, quantity)

    def test_no_figure_stands_twice(self, name):
        places = [(row[0], row[1]) for row in rows_of(name)[1:]]
        assert len(places) == len(set(places))

    def test_nothing_is_padded_with_blanks(self, name):
        for row in rows_of(name):
            assert row == [cell.strip() for cell in row]

    def test_value_and_unit_are_read_by_the_door(self, name):
        for part, quantity, value, unit, _, _ in rows_of(name)[1:]:
            if unit:
                quantity_read = Q(f"{value} {unit}")
                assert quantity_read.magnitude == pytest.approx(float(Fraction(value))), (part, quantity)

    def test_the_rows_come_grouped_by_part(self, name):
        grouped = read_figures(name)
        rows = rows_of(name)[1:]
        assert list(grouped) == list(dict.fromkeys(row[0] for row in rows))
        assert sum(map(len, grouped.values())) == len(rows)


@pytest.fixture
def table():
    return PartsTable("LED", "leds.csv", lambda name, figures: (name, figures["colour"].value))


def test_it_is_a_mapping(table):
    assert table["white 3 mm"] == ("white 3 mm", "white")
    assert "white 3 mm" in table
    assert "white" not in table
    assert ["white 3 mm"] not in table
    assert len(table) == len(list(table)) == len(dict(table))
    assert table.get("white") is None
    assert table.get("white", 5) == 5
    assert table.get("white 3 mm") == table["white 3 mm"]


@pytest.mark.parametrize("name", ["white", 5, None, ["white 3 mm"], "x" * 10_000])
def test_a_name_that_is_none_is_refused_in_one_short_sentence(table, name):
    with pytest.raises(UnknownNameError, match=r"LED .* is not known; use one of: ") as refusal:
        table[name]
    assert len(str(refusal.value)) < 400
    with pytest.raises(UnknownNameError):
        table.figures(name)


def test_the_nearest_names_whatever_the_case():
    assert unknown("battery", "9 v Alkalin", ["9 V alkaline", "coin"]) == (
        "battery '9 v Alkalin' is not known; use one of: '9 V alkaline'"
    )
