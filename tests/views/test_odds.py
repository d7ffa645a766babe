"""Bars of the odds: as long as their shares, with counts."""

import pytest

from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.views.odds import odds_picture
from tests.design.train.passing_runs import run
from tests.views.svg import group, words

TIGHT = passing_odds(run(turn=0.2), samples=200)


def test_a_bar_is_as_long_as_its_share():
    picture = odds_picture(TIGHT)
    for name in ("right", "short"):
        frame, bar = (each for each in group(picture, f"row {name}") if each.tag.endswith("rect"))
        share = float(bar.get("width")) / float(frame.get("width"))
        assert share == pytest.approx(getattr(TIGHT.si, name), abs=1e-3)
    assert len([each for each in group(picture, "row missed") if each.tag.endswith("rect")]) == 1  # the frame alone


def test_counts_and_shares_stand_beside_the_bars():
    said = words(odds_picture(TIGHT))
    count = round(TIGHT.si.short * 200)
    assert any(each.startswith(f"{count}, ") for each in said)
    assert "0, 0 %" in said
    assert "green too soon" in said


def test_one_train_among_many_is_seen():
    few = passing_odds(run())
    assert 0 < few.si.short < 0.01
    _, bar = (each for each in group(odds_picture(few), "row short") if each.tag.endswith("rect"))
    assert float(bar.get("width")) >= 1.5
    assert "100 %" not in " ".join(words(odds_picture(few)))
