"""The front view: which lamp is where, which is lit, and the scale."""

import pytest

from sigcalc import Plan
from sigcalc.views.plan_your_signal import mast_front
from tests.views.svg import SVG, by_words, fills, group, groups, words

FILL = {"red": "#d55e00", "green": "#009e73"}


def signal(height, upper, lower, top="red", **mast):
    """A plan with lamps at these heights."""
    lamps = {"top": top, "bottom": "green" if top == "red" else "red"}
    return Plan(mast={"height": height, "top_lamp": upper, "bottom_lamp": lower, **mast}, lamps=lamps)


def circles(element):
    return [tuple(float(each.get(name)) for name in ("cx", "cy", "r")) for each in element.iter(SVG + "circle")]


@pytest.mark.parametrize("top", ["red", "green"])
@pytest.mark.parametrize("lit", ["red", "green", "both", "none"])
def test_the_lit_lamp_is_filled_at_its_place(top, lit):
    picture = mast_front(signal("150 mm", "140 mm", "130 mm", top), lit)
    bottom = "green" if top == "red" else "red"
    for place, colour in (("upper", top), ("lower", bottom)):
        on = lit in (colour, "both")
        lamp = group(picture, f"lamp {place} {colour} {'lit' if on else 'dark'}")
        assert fills(lamp) == ([FILL[colour]] if on else [])
        assert bool(list(lamp.iter(SVG + "polyline"))) == on  # rays
        assert f"{colour.upper()} {'ON' if on else 'DARK'}" in words(picture)
        assert f"{place} lamp, {colour}, is {'lit' if on else 'dark'}" in picture.sentence
    upper, lower = (circles(group(picture, f"lamp {place}"))[0] for place in ("upper", "lower"))
    assert upper[1] < lower[1]
    assert by_words(picture, "upper lamp").top < by_words(picture, "lower lamp").top
    lamps = list(group(picture, "mast").iter(SVG + "circle"))  # the whole signal shows the same
    coloured = [float(each.get("cy")) for each in lamps if each.get("fill").lower() in FILL.values()]
    heights = sorted({float(each.get("cy")) for each in lamps})
    assert coloured == [y for y, colour in zip(heights, (top, bottom), strict=True) if lit in (colour, "both")]
    assert len(groups(picture, "lamp ")) == 2


def test_heights_are_to_scale():
    picture = mast_front(signal("200 mm", "150 mm", "130 mm"))
    mast = group(picture, "mast")
    post = next(mast.iter(SVG + "rect"))
    ground = float(post.get("y")) + float(post.get("height"))
    per_metre = float(post.get("height")) / 0.2
    upper, lower = sorted({each[1] for each in circles(mast)})
    assert ground - upper == pytest.approx(0.150 * per_metre, abs=0.02)
    assert lower - upper == pytest.approx(0.020 * per_metre, abs=0.02)
    assert min(each[2] for each in circles(mast)) == pytest.approx(0.003154 / 2 * per_metre, abs=0.02)


def test_dimensions_are_said_in_mm_and_inch():
    # 1 in is 25.4 mm exactly (international yard and pound agreement, 1959)
    picture = mast_front(signal("254 mm", "127 mm", "119 mm"))
    assert {"254 mm", "10 in", "127 mm", "5 in"} <= set(words(picture))
    assert (
        "The mast is 254 mm (10 in) high, the upper lamp is at 127 mm (5 in), the lower one at 119 mm (4.69 in)."
        in picture.sentence
    )
