"""A drawing and its sentence."""

import pytest

from sigcalc.views.canvas import text_width, wrapped
from sigcalc.views.picture import named, plain
from sigcalc.views.style import LARGE, lamp_fill, lamp_stroke
from tests.views.svg import HOSTILE, parse


def test_text_is_plain_on_one_line_and_escaped_where_a_foreign_root_is_replaced():
    root = parse(named('<?xml version="1.0"?><svg width="9"><g/></svg>', 'a "b" <c> & d', 10, 20, LARGE))
    assert root.get("aria-label") == 'a "b" <c> & d'
    assert plain(HOSTILE).encode("utf-8")
    assert plain("two\n lines\t ") == "two lines"


def test_long_text_is_wrapped_and_cut_in_sight():
    for text, width, lines in (
        ("bright red 3 mm", 70, ["bright red", "3\u00a0mm"]),  # a number stays with its unit
        ("9 V alkaline", 30, ["9\u00a0V", "alk…"]),
        ("a lamp from the bottom of the drawer", 80, ["a lamp from", "the bottom o…"]),
        ("", 80, [""]),
    ):
        assert wrapped(text, width, 2) == lines
        assert max(map(text_width, lines)) <= width


# Arial is as wide as Helvetica; widths in thousandths: Helvetica's Adobe font metrics, from memory
def test_text_width():
    thousandths = {"0": 556, "W": 944, "i": 222, "RED ON": 722 + 667 + 722 + 278 + 778 + 722}
    assert {text: text_width(text) * 1000 / 12 for text in thousandths} == pytest.approx(thousandths, rel=0.02)


def _luminance(colour):
    """Relative luminance (WCAG 2.2)."""
    levels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [level / 12.92 if level <= 0.04045 else ((level + 0.055) / 1.055) ** 2.4 for level in levels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_curves_stand_out_from_the_paper_and_red_from_green():
    for colour in ("red", "green", "yellow", "blue", "none", "infra"):
        assert 1.05 / (_luminance(lamp_stroke(colour)) + 0.05) >= 3
    # Okabe and Ito, Color Universal Design (2008): vermillion and bluish green
    assert lamp_fill("Red") == "#D5001C"
    assert lamp_fill("green") == "#35CF6A"
