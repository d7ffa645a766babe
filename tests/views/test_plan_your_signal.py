"""The front view: which lamp is where, which is lit, and the scale."""

import numpy as np
import pytest

from sigcalc import Plan
from sigcalc.views.plan_your_signal import mast_front
from tests.views.svg import SVG, by_words, fills, group, groups, words

FILL = {"red": "#d5001c", "green": "#35cf6a"}


def signal(height, upper, lower, top="red"):
    """A plan with lamps at these heights."""
    lamps = {"top": top, "bottom": "green" if top == "red" else "red"}
    return Plan(mast={"height": height, "top_lamp": upper, "bottom_lamp": lower}, lamps=lamps)


def circles(element):
    return [tuple(float(each.get(name)) for name in ("cx", "cy", "r")) for each in element.iter(SVG + "circle")]


@pytest.mark.parametrize(("top", "bottom"), [("red", "green"), ("green", "red")])
@pytest.mark.parametrize("lit", ["red", "green", "both", "none"])
def test_the_lit_lamp_is_filled_at_its_place(top, bottom, lit):
    picture, middles = mast_front(signal("150 mm", "140 mm", "130 mm", top), lit), []
    for place, colour in (("upper", top), ("lower", bottom)):
        on = lit in (colour, "both")
        look, said = ("lit", "ON") if on else ("dark", "DARK")
        lamp = group(picture, f"lamp {place} {colour} {look}")
        assert fills(lamp) == [FILL[colour]] * on
        assert bool(list(lamp.iter(SVG + "polyline"))) == on  # rays
        assert f"{colour.upper()} {said}" in words(picture)
        assert f"{place} lamp, {colour}, is {look}" in picture.sentence
        middles.append((circles(lamp)[0][1], by_words(picture, f"{place} lamp").top))
    assert np.all(np.diff(middles, axis=0) > 0)
    lamps = list(group(picture, "mast").iter(SVG + "circle"))  # the whole signal shows the same
    coloured = [float(each.get("cy")) for each in lamps if each.get("fill").lower() in FILL.values()]
    heights = sorted({float(each.get("cy")) for each in lamps})
    assert coloured == [y for y, colour in zip(heights, (top, bottom), strict=True) if lit in (colour, "both")]
    assert len(groups(picture, "lamp ")) == 2


def test_heights_are_to_scale():
    mast = group(mast_front(signal("200 mm", "150 mm", "130 mm")), "mast")
    post = next(mast.iter(SVG + "rect"))
    top, height = float(post.get("y")), float(post.get("height"))
    heights = sorted({(top + height - y) / height * 0.2 for _, y, _ in circles(mast)})
    assert heights == pytest.approx([0.130, 0.150], abs=2e-5)
    assert min(radius for *_, radius in circles(mast)) == pytest.approx(0.003154 / 2 * height / 0.2, abs=0.02)


def test_dimensions_are_said_in_mm_and_inch():
    # 1 in is 25.4 mm exactly (international yard and pound agreement, 1959)
    picture = mast_front(signal("254 mm", "127 mm", "119 mm"))
    assert {"254 mm", "10 in", "127 mm", "5 in"} <= set(words(picture))
    for said in ("254 mm (10 in) high", "the upper lamp is at 127 mm (5 in)", "the lower one at 119 mm (4.69 in)."):
        assert said in picture.sentence
