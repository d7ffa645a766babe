"""A plan's faults as the form says them."""

import pytest

from sigcalc.panels.plan_faults import in_the_form
from sigcalc.panels.plan_form import TITLES
from sigcalc.plan import Plan


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (
            "drive.current: current needs a current with its unit, but '5' came; write current = \"10 mA\"",
            "Current and resistor, current: current needs a current with its unit, but '5' came; set current to 10 mA",
        ),
        (
            "drive.drawer.0: drawer needs a resistance with its unit, but '470' came; write drawer = \"470 ohm\"",
            (
                "Current and resistor, drawer, no. 1: drawer needs a resistance with its unit, but '470' came; "
                "write it like 470 ohm"
            ),
        ),
        (
            'scale: scale \'O\' stands for several ratios; type scale = "1:48" (United States) or scale = "1:45"',
            "scale: scale 'O' stands for several ratios; set scale to 1:48 (United States) or 1:45",
        ),
        ("red lamp: drawer reaches 940 Ω; add 2.2 kΩ", "red lamp: drawer reaches 940 Ω; add 2.2 kΩ"),
        ("nothing would light", "nothing would light"),
    ],
)
def test_places_and_remedies(fault, said):
    assert in_the_form(fault) == said


def test_every_section_has_a_title():
    alone = {"version", "name", "scale"}
    assert set(TITLES) == set(Plan.model_fields) - alone
