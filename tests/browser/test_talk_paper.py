"""A talk's paper as a browser without any server shows and prints it."""

import re

import pytest
from playwright.sync_api import expect

from sigcalc.panels.talk_paper import talk_paper
from tests.browser.stage import seen
from tests.lessons.test_talk import READY

BACK_ROW = 28.8  # px, 1/25 of the height
KEYS = ("PageDown", "ArrowRight", " ")


@pytest.fixture
def paper(chromium, tmp_path):
    """The paper with the fullest hand-out, opened from a file."""
    (tmp_path / "talk.html").write_text(talk_paper(READY["passing_train"]), encoding="utf-8")
    with chromium.new_context(viewport={"width": 1280, "height": 720}, offline=True) as profile:
        page = profile.new_page()
        page.goto((tmp_path / "talk.html").as_uri())
        yield page


def test_the_hand_out_has_two_pages_and_the_stills_are_gone_through_by_keys(paper):
    for name in ("run", "kit", "answers"):
        paper.locator(f"#with-{name}").uncheck()
    for size in ("A4", "Letter"):
        assert len(re.findall(rb"/Type /Page\b(?!s)", paper.pdf(format=size))) == 2
    paper.set_viewport_size({"width": 186 * 96 // 25, "height": 720})  # as wide as A4 between its margins
    paper.emulate_media(media="print")
    for part in paper.locator(".handout").all():
        assert part.evaluate("part => part.scrollHeight - part.clientHeight") <= 1

    paper.emulate_media(media="screen")
    paper.set_viewport_size({"width": 1280, "height": 720})
    paper.goto(paper.url + "#stills")
    count = paper.locator(".still").count()
    shown = paper.locator(".still:visible")
    for number in range(1, count + 1):
        expect(shown).to_have_id(f"still-{number}")
        found = seen(shown)
        assert found.smallest > BACK_ROW - 0.05, found
        assert not found.outside
        paper.keyboard.press(KEYS[number % 3])
    paper.keyboard.press("PageUp")
    expect(shown).to_have_id(f"still-{count - 1}")
    paper.keyboard.press("b")
    assert paper.locator("body.sigcalc-blank").count() == 1
    paper.keyboard.press("Escape")
    expect(shown).to_have_count(count)
    assert paper.get_by_role("button", name="show the stills").is_visible()
