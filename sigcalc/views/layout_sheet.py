"""The layout's sheet: one printable page with the board, every signal, findings, parts and cuts of a whole layout."""

from __future__ import annotations

from markupsafe import Markup

from ..design.findings import FINE, LOOK, MARKS, STOP
from ..design.lamp.drive import brightness_word
from ..errors import RangeError
from ..plan.layout_study import LAMPS, LampOnBoard, LayoutStudy
from ..units import say
from .board import board_picture
from .board_words import share_words
from .picture import Picture
from .sheet import GRADE_CLASSES, page_style, page_template
from .style import NORMAL, Size

LAYOUT_SENTENCES = {
    FINE: "No problems found.",
    LOOK: "It can be built, but look again at what is marked below.",
    STOP: "Do not build it so: see the findings.",
}


def layout_sheet(study: LayoutStudy) -> str:
    """The sheet as one HTML page for A4 or Letter, without links to anything outside; every text in it is escaped."""
    board = board_showing(study, LAMPS[0])
    return page_template("layout_sheet.html.j2").render(
        study=study,
        grade_sentence=LAYOUT_SENTENCES[study.grade],
        marks=MARKS,
        classes=GRADE_CLASSES,
        board=None if board is None else Markup(board.html()),  # a Picture escapes every text
        words=lamp_words,
        volts=lambda volts: say(volts, "V"),
        style=Markup(page_style()),
    )


def board_showing(study: LayoutStudy, lamp: str, size: Size = NORMAL) -> Picture | None:
    """The board with every signal at "red" or "green"; None where it is too large to draw."""
    try:
        return board_picture(study.board.state(lamp), size=size)
    except RangeError:
        return None


def lamp_words(lamp: LampOnBoard) -> str:
    """How bright a lamp is on the board, in words and figures."""
    word = brightness_word(lamp.share, lamp.current)
    return f"{word}: {say(lamp.current, 'A')}, {share_words(lamp.share)} ({share_words(lamp.share_least)} at worst)"
