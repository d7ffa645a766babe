"""What holds for every picture: named, whole, legible, free of links, and no text over another."""

import html
import itertools
import re

from sigcalc.views.style import STAGE_BOX
from tests.views.samples import pictures, stage_pictures
from tests.views.svg import SVG, parse, texts, view_box


def test_each_is_named_whole_and_needs_nothing_from_outside():
    for name, picture in pictures().items():
        root, page = parse(picture), picture.html()
        assert (root.tag, root.get("role"), root.get("aria-label")) == (SVG + "svg", "img", picture.sentence), name
        assert picture.sentence.endswith("."), name
        assert f"{html.escape(picture.sentence)}</figcaption>" in page, name
        assert page.count("<svg ") == 1, name
        assert picture._repr_html_() == page
        assert all(each in root.get("style") for each in ("width:100%", "max-width:", "height:auto", "#ffffff")), name
        bare = re.sub(r'xmlns(:xlink)?="[^"]*"', "", picture.svg)
        assert not re.search(r"http|url\((?!#)|@import|<script|<image|<style|<!DOCTYPE|<\?xml", bare), name
        assert all(link.startswith("#") for link in re.findall(r'href="([^"]*)"', bare)), name
        # strange text stays text
        assert not re.search("<b>|[\x00-\x08\x0b\x0c\x0e-\x1f\u202e\ud800]", page), name


def test_no_text_lies_over_another_or_leaves_the_sheet():
    for name, picture in (pictures() | stage_pictures()).items():
        found, (left, top, width, height) = texts(picture), view_box(parse(picture))
        for text in found:
            assert left <= text.left <= text.right <= left + width, f"{name}: {text}"
            assert top <= text.top <= text.bottom <= top + height, f"{name}: {text}"
        for one, other in itertools.combinations(found, 2):
            assert not one.overlaps(other), f"{name}: {one} / {other}"


def test_large_type_is_the_same_drawing_and_all_text_is_large_enough():
    for drawn, least in ((pictures(), 12), (pictures(large=True), 18)):
        for name, picture in drawn.items():
            root = parse(picture)
            scale = float(re.search(r"max-width:([\d.]+)pt", root.get("style"))[1]) / view_box(root)[2]
            assert min(text.size for text in texts(picture)) * scale >= least, name
            assert f"font-size:{least}pt" in picture.html()
            # the same data give the same picture
            assert picture.svg.partition(">")[2] == pictures()[name].svg.partition(">")[2], name


def test_all_type_on_a_wall_can_be_read_from_the_back_row():
    for name, picture in stage_pictures().items():
        _, _, width, height = view_box(parse(picture))
        enlarged = min(STAGE_BOX[0] / width, STAGE_BOX[1] / height)
        assert min(text.size for text in texts(picture)) * enlarged >= 12 - 0.01, name
