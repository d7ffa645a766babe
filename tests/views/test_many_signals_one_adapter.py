"""The lesson's charts and tables: how many signals, which gauge, which fuse; and a layout's sheet."""

import html
import re

import numpy as np
import pytest

from sigcalc import Layout
from sigcalc.design.board.fuse import check_fuse
from sigcalc.design.board.limits import add_signals, most_signals
from sigcalc.errors import UnitError
from sigcalc.parts.source import adapters
from sigcalc.views.many_signals_one_adapter import MostSignalsChart, fuse_table, gauge_bars, lamp_words, layout_sheet
from tests.plan.plans import LAYOUT
from tests.views.samples import ADAPTER, HEAVY, LAMPS, along
from tests.views.svg import spans, words

# ---- most

CHART = MostSignalsChart()


def drawn(source, gauge, run):
    result = most_signals(source, HEAVY, gauge, run)
    adding = add_signals(source, HEAVY, gauge, run, [1, result.count, result.count + 1])
    return result, CHART.picture(result, adding, 20.0)


def test_the_end_of_the_row_and_what_sets_it():
    result, picture = drawn(adapters["9 V unregulated"], 30, "4 m")
    assert result.limited_by == "light"
    assert f"{result.count} at most: with one more the last is too dim" in words(picture)
    assert "With one more the weakest lamp would have" in picture.sentence
    result, picture = drawn(ADAPTER, 26, "1 m")
    assert result.limited_by == "adapter"
    assert f"{result.count} at most: one more is too much for the adapter" in words(picture)
    count, share = CHART.lines["curve"].get_data()
    assert count.tolist() == [1, result.count, result.count + 1]
    assert share[1:] == pytest.approx([100 * result.share, 100 * result.next_share])
    assert set(CHART.lines["most"].get_xdata()) == {result.count + 0.5}
    assert set(CHART.lines["wanted"].get_ydata()) == {80}


# ---- gauges

SHARES = {22: 0.96, 30: 0.8, 26: 0.92}


def test_bars_are_as_long_as_the_light_and_say_which_are_enough():
    picture = gauge_bars(SHARES, "90 %")
    assert [each for each in words(picture) if each.endswith("AWG")] == ["30 AWG", "26 AWG", "22 AWG"]
    length = [end - start for gauge in SHARES for start, end in spans(picture, f"{gauge} AWG")]
    assert np.array(length) / length[0] == pytest.approx(np.array(list(SHARES.values())) / 0.96, rel=1e-3)
    assert {"80 % ✘ too thin", "92 % ✔ enough", "96 % ✔ enough", "asked for: 90 %"} <= set(words(picture))
    assert picture.sentence.endswith("Asked for: 90 %. 26 AWG is the thinnest that is enough.")
    assert gauge_bars(SHARES, 0.99).sentence.endswith("No gauge shown is enough.")


# ---- fuses

BOARD = along("chain", LAMPS)


def test_each_fuse_has_its_verdict_and_its_reason():
    names = ["50 mA resettable", "100 mA resettable", "1 A fast glass"]
    table = fuse_table(BOARD, names)
    verdicts = [(name, "suits" if check_fuse(BOARD, name).suits else "does not suit") for name in names]
    assert [(name, verdict) for name, _, verdict in table.rows] == verdicts
    assert [verdict for _, verdict in verdicts] == ["suits", "suits", "does not suit"]
    assert "may never do so" in table.rows[2][1]
    assert "700 circular mils" not in str(table.rows)
    assert "What a wire is rated for: 700 circular mils an ampere" in table.sentence


def test_what_is_no_list_of_fuses_is_refused():
    with pytest.raises(UnitError, match="names needs a list"):
        fuse_table(BOARD, "100 mA resettable")


# ---- sheet


def text(page):
    return html.unescape(re.sub(r"<[^>]+>", " ", page)).replace("\xa0", " ")


def test_board_signals_sections_findings_and_parts_are_on_it():
    study = Layout.load(LAYOUT).study()
    page = layout_sheet(study)
    wanted = [lamp_words(lamp) for signal in study.signals for lamp in signal.lamps.values()]
    wanted += [f"{each.name} {each.start} {each.end} {each.wire}" for each in study.layout.feeders]
    wanted += [finding.reason for finding in study.findings]
    wanted += [f"{line.count} × {line.part}" for line in study.parts]
    said = " ".join(text(page).split())
    assert [each for each in wanted if each not in said] == []
    (picture,) = re.findall(r"<figure.*?</figure>", page, re.S)
    assert 'role="img"' in picture
    assert "12 V regulated gives" in picture


def test_a_stranger_s_names_are_escaped_and_nothing_is_loaded():
    name = "<script>alert(1)</script>"
    feeders = [{"name": name, "start": "supply", "end": name, "length": "2 m"}]
    page = layout_sheet(Layout(name=name, feeders=feeders, signals=[{"name": name, "at": name}]).study())
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"(src|href)=", page)


def test_without_fuse_and_sections_it_is_whole_and_a_large_board_is_not_drawn():
    page = layout_sheet(Layout(signals=[{"name": "a", "at": "supply"}]).study())
    assert "no fuse" in page
    assert "at no signal" in text(page)
    signals = [{"name": f"s{number}", "at": "supply"} for number in range(121)]
    page = layout_sheet(Layout(signals=signals, supply={"voltage": "12 V", "max_current": "5 A"}).study())
    assert "<figure" not in page
    assert "s120" in page
