"""The tables of parts: the mapping, and every row of every data file, each of which says where it comes from.

A source is a publication with the place in it (page, chapter, table, document's number or address), or begins with
`common practice`, `from memory`, or, where it needs no source, with `arithmetic`, `by name` or `by definition`;
`estimate` says how far another sample may differ from one that was measured. What was not looked up is given wide.
"""

import csv
import re
from fractions import Fraction
from importlib.resources import files

import pytest

from sigcalc.errors import UnknownNameError
from sigcalc.parts.led import leds
from sigcalc.parts.table import PartsTable, read_figures, unknown
from sigcalc.units import Q

DATA = files("sigcalc.parts").joinpath("data")
COLUMNS = ["part", "quantity", "value", "unit", "source", "note"]
OF_WORDS = {"measuring_points.csv"}  # tables of words, not of figures: their own tests read them
FILES = sorted(each.name for each in DATA.iterdir() if each.name.endswith(".csv"))
WIDE = 0.05
"""A band with an end from memory is at least this share of its nominal figure wide; with a share given: 20 %."""

_SAID = ("common practice", "from memory", "arithmetic", "by name", "by definition", "estimate")
_PLACE = re.compile(
    r"\bpp?\. ?\d"  # a page
    r"|\bpage \d|\bch\. ?\d|\btable \w|\bchart\b|\bspecifications\b|\bnotes? \d|\bdrawing of\b|\bdiode test\b"
    r"|\b(?:[\w-]+\.)+(?:com|ca|cn|gov|org|net|uk|io|support|live|directory|technology|network)\b"  # an address
    r"|@[0-9a-f]{7,}|\bat second hand\b|\bdefinitions\.units\b"  # a commit; a quotation
    r"|\b(?:IEC|JIS|NMRA standard|UL style|NEM) [A-Z]?-?\d+"  # a standard's number
    r"|\b[A-Z]{3,}\d{3,}\w*|\bT4-LDS-0159|\bTL/F/\d+|\bDSFP-2N7000|\bVishay \d{5}"  # a document's number
)
# bounds on the careful side, and figures that are a width themselves
_BOUND = re.compile(r"^(max_|least[_ ]|most[_ ])|_(spread|digits|accuracy)$|^(tolerance|below|above|ripple|spread)$")
_DEBT = {
    # nothing in the library takes a band for these yet: the list may only grow shorter
    "capacitors.csv": {"leakage_time"},
    "colour_bands.csv": {"temperature_coefficient"},  # what the standard makes a colour mean
    "diodes.csv": {"series_resistance", "temperature_coefficient", "saturation_current"},
    "led_priors.csv": {"temperature_coefficient"},
    "leds.csv": {"derate_from", "zero_at"},
    "meters.csv": {"lead_resistance", "shunt_resistance", "input_resistance", "diode_most", "reads_high"},
    "reeds.csv": {"coil_length", "glass_length", "operate_time", "bounce_time", "release_time"},
    "relay_series.csv": {"reference_temperature", "operate_time", "release_time"},  # the most each may take
    "relays.csv": {"rated_voltage", "coil_resistance"},
}


def rows_of(name):
    with DATA.joinpath(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("name", [each for each in FILES if each not in OF_WORDS])
def test_every_row_is_whole_and_read_by_the_door(name):
    rows, grouped = rows_of(name), read_figures(name)
    assert rows
    assert len({(row["part"], row["quantity"]) for row in rows}) == len(rows) == sum(map(len, grouped.values()))
    assert list(grouped) == list(dict.fromkeys(row["part"] for row in rows))
    for row in rows:
        assert list(row) == COLUMNS
        assert all(cell == cell.strip() for cell in row.values())
        assert all(row[key] for key in ("part", "quantity", "value", "source")), row
        if row["unit"]:
            read = Q(f"{row['value']} {row['unit']}")
            assert read.magnitude == pytest.approx(float(Fraction(row["value"]))), row


@pytest.mark.parametrize("name", FILES)
def test_every_source_is_one_of_the_kinds(name):
    weak = re.compile(r"wiki|forum|thread \d|pastebin|reddit|codidact|kodekata|liquisearch|answers|call-sign")
    for row in rows_of(name):
        source = row["source"]
        assert source.startswith(_SAID) or _PLACE.search(source), (name, *row.values())
        assert "memory" not in source or source.startswith("from memory"), (name, source)
        assert not weak.search(source), (name, source)


@pytest.mark.parametrize("name", [each for each in FILES if each not in OF_WORDS])
def test_what_is_from_memory_is_wide_but_for_the_debts(name):
    rows = {(row["part"], row["quantity"]): row for row in rows_of(name)}
    owed = {
        quantity
        for (part, quantity), row in rows.items()
        if row["source"].startswith("from memory")
        and row["unit"]
        and not _BOUND.search(quantity)
        and width(rows, part, quantity) < WIDE
    }
    assert owed == _DEBT.get(name, set())


def width(rows, part, quantity):
    """How wide the band of a figure is, as a share of the nominal one; 0 where there is none."""

    def value(key):
        row = rows.get((part, key))
        return None if row is None else float(row["value"])

    for least, usual, most in (("{}_min", "{}", "{}_max"), ("{}_least", "{}", "{}_most")):
        base = re.sub(r"_(min|max|least|most)$", "", quantity)
        ends = [value(each.format(base)) for each in (least, usual, most)]
        if ends[0] is not None and ends[2] is not None:
            return (ends[2] - ends[0]) / abs(ends[1] or ends[2])
    if quantity.startswith("outer "):  # of an insulated wire; the least may follow from the insulation's wall
        least = value("outer least") or 0.9 * value("outer nominal")
        return (value("outer most") - least) / value("outer nominal")
    for share in ("spread", "tolerance"):  # of a battery's test, of a current-regulating diode
        if (part, share) in rows:
            return float(rows[part, share]["value"]) / 100
    if quantity.startswith("rest_voltage"):  # of a cell: its battery's own fresh voltage, which has a band, shifts it
        return WIDE
    return value(f"{quantity}_spread") / abs(value(quantity)) if value(f"{quantity}_spread") else 0.0


def test_a_test_of_a_battery_from_memory_may_miss_by_a_fifth():
    tests = rows_of("discharge_capacity.csv")
    spread = {row["part"]: float(row["value"]) for row in tests if row["quantity"] == "spread"}
    recalled = {row["part"] for row in tests if row["quantity"] == "capacity" and "from memory" in row["source"]}
    assert recalled
    assert all(spread[part] >= 20 for part in recalled)


@pytest.fixture
def table():
    return PartsTable("LED", "leds.csv", lambda name, figures: (name, figures["colour"].value))


def test_it_is_a_mapping(table):
    assert table["white 3 mm"] == ("white 3 mm", "white")
    assert "white 3 mm" in table
    assert "white" not in table
    assert ["white 3 mm"] not in table
    assert len(table) == len(dict(table))
    assert table.get("white") is None
    assert table.get("white 3 mm") == table["white 3 mm"]


@pytest.mark.parametrize("name", ["white", 5, None, ["white 3 mm"], "x" * 10_000])
def test_a_name_that_is_none_is_refused_in_one_short_sentence_with_the_nearest_whatever_the_case(table, name):
    for ask in (table.__getitem__, table.figures):
        with pytest.raises(UnknownNameError, match=r"LED .* is not known; use one of: ") as refusal:
            ask(name)
        assert len(str(refusal.value)) < 400
    assert unknown("battery", "9 v Alkalin", ["9 V alkaline", "coin"]).endswith("use one of: '9 V alkaline'")


def test_the_names_of_earlier_editions_still_find_their_part_but_only_the_new_ones_are_listed():
    renamed = {rows["old_name"].value: name for name, rows in read_figures("leds.csv").items() if "old_name" in rows}
    assert len(renamed) == 8
    for old, new in renamed.items():
        assert leds[old] is leds[new] is leds.get(old)
        assert leds.figures(old) == leds.figures(new)
        assert old in leds
        assert old not in list(leds)
        assert leds.today(old) == leds.today(new) == leds[new].name == new
    assert leds["red alingap 3 mm"].name == "bright red 3 mm"
    with pytest.raises(UnknownNameError, match="use one of: 'bright red 3 mm'"):
        leds["bright rod 3 mm"]
