"""What holds for every picture: named, whole, legible, free of links, and no text over another."""

import html
import itertools
import re

import pytest

from tests.views.samples import pictures
from tests.views.svg import SVG, parse, texts, view_box

ALL = sorted(pictures())


@pytest.fixture(params=ALL)
def picture(request):
    return pictures()[request.param]


def test_the_text_alternative_is_the_sentence(picture):
    root = parse(picture)
    assert root.tag == SVG + "svg"
    assert root.get("role") == "img"
    assert root.get("aria-label") == picture.sentence
    assert picture.sentence.endswith(".")
    assert f"{html.escape(picture.sentence)}</figcaption>" in picture.html()


def test_it_scales_on_white_paper(picture):
    style = parse(picture).get("style")
    assert all(each in style for each in ("width:100%", "max-width:", "height:auto", "background:#ffffff"))


def test_it_needs_nothing_from_outside(picture):
    bare = re.sub(r'xmlns(:xlink)?="[^"]*"', "", picture.svg)
    assert "http" not in bare
    assert not re.search(r"url\((?!#)|@import|<script|<image|<style|<!DOCTYPE|<\?xml", bare)
    assert all(link.startswith("#") for link in re.findall(r'href="([^"]*)"', bare))


@pytest.mark.parametrize(("large", "least"), [(False, 12), (True, 18)])
def test_text_is_large_enough_when_it_has_its_natural_width(large, least):
    for name, picture in pictures(large).items():
        root = parse(picture)
        natural = float(re.search(r"max-width:([\d.]+)pt", root.get("style"))[1])
        scale = natural / view_box(root)[2]
        assert min(text.size for text in texts(picture)) * scale >= least, name
        assert f"font-size:{least}pt" in picture.html()


def test_large_type_is_the_same_drawing():
    for name, picture in pictures(large=True).items():
        body = picture.svg.partition(">")[2]
        assert body == pictures()[name].svg.partition(">")[2]


def test_no_text_lies_over_another(picture):
    for one, other in itertools.combinations(texts(picture), 2):
        assert not one.overlaps(other), f"{one} / {other}"


def test_no_text_leaves_the_sheet(picture):
    left, top, width, height = view_box(parse(picture))
    for text in texts(picture):
        assert left <= text.left and text.right <= left + width, text  # noqa: PT018
        assert top <= text.top and text.bottom <= top + height, text  # noqa: PT018


def test_strange_text_stays_text(picture):
    assert "<b>" not in picture.html()
    assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f‮\ud800]", picture.html())


def test_it_is_shown_as_a_figure(picture):
    assert picture._repr_html_() == picture.html()
    assert picture.html().count("<svg ") == 1


def test_the_same_data_give_the_same_picture():
    again = pictures.__wrapped__()
    assert {name: picture.svg for name, picture in again.items()} == {
        name: picture.svg for name, picture in pictures().items()
    }
