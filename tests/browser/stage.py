"""A panel on the stage as a room sees it: how small its smallest type is, and what does not fit on the screen."""

from pathlib import Path
from typing import NamedTuple

from playwright.sync_api import Locator, Page

_SEEN = Path(__file__).with_suffix(".js").read_text(encoding="utf-8")


class Seen(NamedTuple):
    """The smallest type in pixels with its words, and what lies outside of the screen or is cut off."""

    smallest: float
    words: str
    outside: list[str]


def fill_the_screen(page: Page, panel: Locator):
    """Press the panel's button, and wait until the panel has been drawn for the wall."""
    panel.get_by_role("button", name="fill the screen").click()
    page.wait_for_function("document.fullscreenElement?.matches('.sigcalc-panel')")
    panel.locator(".sigcalc-verdict[role=status]").wait_for(state="attached")  # as the stage alone has it


def leave(page: Page):
    """Leave the stage (headless Chromium has no key for it)."""
    page.evaluate("document.exitFullscreen()")
    page.wait_for_function("!document.fullscreenElement")


def seen(panel: Locator) -> Seen:
    """What can be seen of a panel that is on the stage."""
    found = panel.evaluate(_SEEN)
    smallest, words = min(found["seen"])
    return Seen(smallest, words, found["outside"])
