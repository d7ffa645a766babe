"""The layout's sheet: one printable page with the board, every signal, findings, parts and cuts of a whole layout."""

from __future__ import annotations

from markupsafe import Markup

from ..errors import SigcalcError
from ..parts.finding import FINE, LOOK, STOP
from ..plan.layout_result import LAMPS, LampOnBoard, LayoutStudy
from ..units import say
from .board import board_picture
from .board_words import brightness_word, share_words
from .picture import Picture
from .sheet import GRADE_CLASSES, MARKS, page_style, page_template
from .style import NORMAL, Size

LAYOUT_SENTENCES = {
    FINE: "Nothing speaks against building it so.",
    LOOK: "It can be built, but look again at what is marked below.",
    STOP: "Do not build it so: see the findings.",
}


def layout_sheet(study: LayoutStudy) -> str:
    """The sheet as one HTML page for A4 or Letter, without links to anything outside; every text in it is escaped."""
    return page_template("layout_sheet.html.j2").render(
        study=study,
        grade_sentence=LAYOUT_SENTENCES[study.grade],
        marks=MARKS,
        classes=GRADE_CLASSES,
        boards=[Markup(each.html()) for each in board_pictures(study)],  # a Picture escapes every text
        words=lamp_words,
        volts=lambda volts: say(volts, "V"),
        style=Markup(page_style()),
    )


def board_pictures(study: LayoutStudy, size: Size = NORMAL) -> list[Picture]:
    """The board with all signals red, which is when a coil that is fed for red pulls; none where it is too large."""
    try:
        return [board_picture(study.board.state(LAMPS[0]), size=size)]
    except SigcalcError:
        return []


def lamp_words(lamp: LampOnBoard) -> str:
    """How bright a lamp is on the board, in words and figures."""
    word = brightness_word(lamp.share, lamp.current)
    return f"{word}: {say(lamp.current, 'A')}, {share_words(lamp.share)} ({share_words(lamp.share_least)} at worst)"
