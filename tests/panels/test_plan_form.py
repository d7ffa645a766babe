"""A plan's faults as the form says them."""

import pytest

from sigcalc.errors import PlanError
from sigcalc.panels.plan_form import TITLES, faults_as_html, in_the_form
from sigcalc.plan import Plan


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        (
            {"drive": {"current": "5"}},
            "Current and resistor, current needs a current with its unit, for example \"10 mA\"; you gave '5'",
        ),
        (
            {"drive": {"drawer": ["470"]}},
            'Current and resistor, drawer, no. 1 needs a resistance with its unit, for example "470 ohm"; you gave',
        ),
        ({"scale": "O"}, "scale: scale 'O' stands for several ratios"),
        ({"wiring": {"extra_red": "9 ohm"}}, 'Wiring, extra red: it has no place in the form "one shared resistor"'),
        ({"mast": {"height": "1 mm"}}, "Mast and holes: bottom_lamp, top_lamp and height need to rise"),
    ],
)
def test_places_are_named_as_in_the_form(fields, said):
    with pytest.raises(PlanError) as refusal:
        Plan(**fields)
    (fault,) = refusal.value.listed
    assert in_the_form(fault).startswith(said)


def test_all_are_listed_and_their_text_is_no_markup():
    page = faults_as_html(PlanError(["<b> is no plan"] * 20, 5))
    assert page.count("<li>") == 21
    assert "&lt;b&gt;" in page
    assert "and 5 more" in page


def test_every_section_has_a_title():
    alone = {"version", "name", "scale"}
    assert set(TITLES) == set(Plan.model_fields) - alone
