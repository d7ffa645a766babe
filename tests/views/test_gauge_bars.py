"""The bars of the gauges."""

import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.views.gauge_bars import gauge_bars
from tests.views.svg import SVG, corners, group, words

SHARES = {22: 0.96, 30: 0.8, 26: 0.92}


def bar(picture, gauge):
    return next(group(picture, f"gauge {gauge}").iter(SVG + "rect"))


def test_bars_are_as_long_as_the_light_and_the_thinnest_stands_first():
    picture = gauge_bars(SHARES, 0.9)
    assert [each for each in words(picture) if each.endswith("AWG")] == ["30 AWG", "26 AWG", "22 AWG"]
    lengths = {gauge: float(bar(picture, gauge).get("width")) for gauge in SHARES}
    assert lengths[30] / lengths[22] == pytest.approx(0.8 / 0.96, rel=1e-3)
    mark = corners(group(picture, "wanted").iter(SVG + "polyline"))[0][0][0]
    start = float(bar(picture, 26).get("x"))
    assert (mark - start) / lengths[26] == pytest.approx(0.9 / 0.92, rel=1e-3)


def test_enough_and_too_thin_are_said():
    picture = gauge_bars(SHARES, "90 %")
    assert {"80 % ✘ too thin", "92 % ✔ enough", "96 % ✔ enough", "asked for: 90 %"} <= set(words(picture))
    assert picture.sentence.endswith("Asked for: 90 %. 26 AWG is the thinnest that is enough.")
    assert gauge_bars(SHARES, 0.99).sentence.endswith("No gauge shown is enough.")


def test_what_is_refused():
    with pytest.raises(UnitError, match="shares needs a share"):
        gauge_bars({}, 0.9)
    with pytest.raises(RangeError, match="wanted"):
        gauge_bars(SHARES, 1.2)
