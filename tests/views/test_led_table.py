"""The table of the LEDs people own: a row for each, with the figures of its sheet."""

from xml.etree import ElementTree

from sigcalc import Q, leds
from sigcalc.views.led_table import SAME_CURRENT, leds_people_own


def test_every_led_has_a_row_with_what_its_sheet_says():
    page = ElementTree.fromstring(leds_people_own().html())
    rows = {
        row[0].text.replace("\u00a0", " "): [cell.text.replace("\u00a0", " ") for cell in row]
        for row in page.iter("tr")
    }
    assert list(rows)[1:] == list(leds)
    # Vishay 83006 and TLHK4400L: 13 mcd and 70 mcd at 10 mA
    assert rows["ordinary red 3 mm"][2:] == ["GaAsP/GaP", "2 V (1.7 V to 3 V) at 20 mA", "30 mA", "6.5 mcd"]
    assert rows["bright red 3 mm"][-1] == "35 mcd"
    assert rows["white 3 mm"][-1] == "not stated"
    assert page.find("details/summary").text == "The LEDs people own"


def test_the_current_at_which_light_is_compared_is_within_every_limit():
    assert all(Q(SAME_CURRENT, "A") <= led.max_current for led in leds.values())
