"""Bars of lamps behind one driver: as long as their currents, with the verdict in words."""

import pytest

from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.views.limiter_shares import limiter_shares
from tests.views.power_samples import GREEN, RED
from tests.views.svg import SVG, group, words


def shared(red="0 ohm", together=True, supply="9 V", wanted="4 mA", limit="10 mA"):
    driver = ConstantCurrentDrive(limit, "1.5 V", 0.1)
    return share_limiter(supply, driver, [(RED, wanted, red), (GREEN, "10 mA", "0 ohm")], together)


def bars(picture, colour):
    return [float(each.get("width")) for each in group(picture, f"branch {colour}").iter(SVG + "rect")]


@pytest.mark.parametrize(("red", "together"), [("0 ohm", True), ("60 ohm", True), ("1 kohm", True), ("0 ohm", False)])
def test_bars_are_as_long_as_the_currents(red, together):
    result = shared(red, together)
    picture = limiter_shares(result)
    per_ampere = bars(picture, "green")[0] / 10e-3
    for number, colour in enumerate(("red", "green")):
        wants, gets = bars(picture, colour)
        assert wants == pytest.approx(result.si.wanted[number] * per_ampere, abs=0.02)
        assert gets == pytest.approx(result.si.current[number] * per_ampere, abs=0.02)


def test_the_lower_drop_takes_it_all():
    sentence = limiter_shares(shared()).sentence
    assert sentence.startswith("Lit at once, red wants 4 mA and gets 9.99 mA, 2.5 times its wish; green wants 10")
    assert sentence.endswith("0.1 % of its wish.")


def test_a_lamp_that_stays_dark_is_called_so():
    # 10 µA is what counts as lit; of less a share of the wish says nothing
    sentence = limiter_shares(shared(limit="1 mA")).sentence
    assert sentence.endswith("and stays dark.")
    assert "%" not in sentence.partition("green")[2]


def test_in_turn_each_gets_the_whole_current():
    picture = limiter_shares(shared(together=False))
    assert "Lit one at a time, red wants 4 mA and gets 10 mA" in picture.sentence
    assert "green wants 10 mA and gets 10 mA, about right" in picture.sentence
    assert "one driver of 10 mA, lit one at a time" in words(picture)
