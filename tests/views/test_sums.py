"""A sum in steps as a table: numbers keep their units, columns are named, and all is escaped."""

import pytest

from sigcalc.views.style import LARGE
from sigcalc.views.sums import Step, SumByHand


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("10.4 mA", "10.4\u00a0mA"),
        ("7.1 V ÷ 680 Ω", "7.1\u00a0V ÷ 680\u00a0Ω"),
        ("5 %", "5\u00a0%"),
        ("2 × 106 mW = 211 mW", "2 × 106\u00a0mW = 211\u00a0mW"),
        ("1 lamp of 2 lights", "1 lamp of 2 lights"),
    ],
)
def test_a_number_and_its_unit_stay_in_one_line(written, kept):
    assert f">{kept}</td>" in SumByHand("Sum", (Step("what", written, "so"),), "So.").html()


def test_columns_of_equal_weight_have_no_answer_in_bold():
    step = Step("what", "one", "other")
    assert "<b>other</b>" in SumByHand("Sum", (step,), "So.").html()
    assert "<b>" not in SumByHand("Sum", (step,), "So.", equal=True).html()


def test_the_table_names_its_columns_and_escapes_what_it_is_given():
    page = SumByHand("<i>", (Step("a & b", "1 < 2", "<script>"),), "So.", LARGE).html()
    assert page.count('<th scope="col"') == 3
    assert "<caption" in page
    assert "<script>" not in page
    assert "<i>" not in page
    assert "1. a &amp; b" in page
    assert "font-size:18" in page
