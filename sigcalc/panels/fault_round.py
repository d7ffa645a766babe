"""The game for a room: two teams, five hidden faults, the points that are left, and who may guess."""

from __future__ import annotations

import html
import time

import ipywidgets as widgets

from ..design.bench.circuit import LAMPS
from ..design.bench.fault import faults_of
from ..design.bench.reading import measuring_points
from ..design.findings import FINE, LOOK, Finding
from ..errors import RangeError
from ..lessons.fault_round import (
    COST,
    FINE_PRINT,
    FIRST,
    READY,
    ROUNDS,
    RULES,
    SECOND,
    SECONDS,
    SHOWN,
    SIGNALS,
    Standing,
    hidden_signal,
)
from ..lessons.find_the_fault import quillhaven_signal
from ..units.reading import quoted
from ..views.findings import Answer
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH
from .control import Control, NumberControl, positions, text_line
from .find_the_fault import FAULT, MEASURE, METER_AT, READINGS, SET_FOR, SHOW, START, MeterPanel, places
from .press import Pick, Press
from .stage import head_html

ROUND, CLOCK, TEAMS, NEXT = "round", "seconds", ("first team", "second team"), "start or name it"
BOARD = "score"
PASS = "no idea"
_HEADING = "What is wrong with this signal?"
_MARKS = ("▲", "●")  # of the two teams, beside their colours
_LONGEST = 14  # letters of a team's name, for the line at the top of a wall


class FaultRoundPanel(MeterPanel):
    """Two teams look for five hidden faults, one after the other; `lessons.fault_round` has the rules.

    The clock of a guess runs in the page, from a time that is written there: a page that was asleep shows what is left.
    """

    def __init__(self) -> None:
        self._round = 0
        self._named = ""
        self._since = 0.0  # s, when the guess began whose clock runs
        self.standing = Standing()
        circuit = quillhaven_signal()
        names = [PASS, *(each.name for each in faults_of(circuit, pairs=False))]
        super().__init__(
            [
                positions(SET_FOR, list(LAMPS)),
                Pick(METER_AT, places(measuring_points(circuit)), Press(MEASURE), START),
                Pick(FAULT, names, Press(NEXT)),
                NumberControl(ROUND, "", 1, ROUNDS, 1, step=1),
                NumberControl(CLOCK, "", 30, 300, SECONDS, step=10),
                *(text_line(name, f"Team {number}", f"Team {number}") for number, name in enumerate(TEAMS, 1)),
                positions(SHOW, (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS), AS_IT_LOOKS),
                _note("rules", f"<b>Rules.</b> {html.escape(f'{RULES} {FINE_PRINT}')}"),
                _note(BOARD, ""),
            ],
            _HEADING,
        )

    def takes_long(self) -> bool:
        """Whether another signal comes, whose fault has to be hidden so that it can be found."""
        return self.standing.phase == SHOWN and self[FAULT].below.value

    def draw(self) -> Answer:
        """The signal with the meter and, once both teams had their guess, with the fault ringed; the board above it."""
        teams = self.teams
        self._follow_round()
        self.follow_point()
        if self[METER_AT].below.taken() and self.measure():
            self._go(self.standing.measured())
        if self[FAULT].below.taken():
            self._press()
        self.found = self.signal.fault if self.standing.phase == SHOWN else None
        self._show_board(teams)
        return Answer(self.pictures(), self._sentence(teams), self._findings(teams), self._brief(teams))

    @property
    def teams(self) -> tuple[str, str]:
        """The names of the teams; RangeError for one that is empty or does not fit on the wall."""
        names = tuple(" ".join(self[each].value.split()) for each in TEAMS)
        for control, name in zip(TEAMS, names, strict=True):
            if not 0 < len(name) <= _LONGEST:
                need = f"a name of 1 to {_LONGEST} letters"
                raise RangeError(argument=control, need=need, given=quoted(name), example="Team 1")
        return names

    def _follow_round(self) -> None:
        """Begin anew where another round is wanted."""
        number = self[ROUND].whole
        if number != self._round:
            self._round = number
            self._begin(Standing())

    def _begin(self, standing: Standing) -> None:
        """Put the signal there that is next."""
        self._named, self.readings = "", {}
        self._go(standing)
        self.signal = hidden_signal(self._round, standing.place)
        with self.silent():
            self[FAULT].value, self[SET_FOR].value = PASS, LAMPS[0]

    def _go(self, standing: Standing) -> None:
        """Go on; a phase that is new sets the clock back."""
        if standing.phase != self.standing.phase or standing.place != self.standing.place:
            self._since = time.time()
        self.standing = standing

    def _press(self) -> None:
        """What the button under the verdict does: start the clock, name a fault, or go on."""
        now = self.standing
        if now.phase == READY:
            self._go(now.started())
        elif now.over:
            self._begin(Standing())
        elif now.phase == SHOWN:
            self._begin(now.following())
        else:
            self._named = self[FAULT].value
            self._go(now.named(self._named == self.signal.fault.name))
            with self.silent():
                self[FAULT].value = PASS

    # ---- what is said

    def _show_board(self, teams: tuple[str, str]) -> None:
        """The line above the picture: signal, points, teams with their scores, clock; and the button's words."""
        now = self.standing
        words = {READY: "start the clock", FIRST: "name it", SECOND: "name it"}
        self[FAULT].below.say(words.get(now.phase, "play again" if now.over else "next signal"))
        team = "".join(_team_html(now, number, name) for number, name in enumerate(teams))
        worth = "" if now.phase == SHOWN else f", {_points(now.worth)}"
        heading = f"Signal {now.place} of {SIGNALS}{worth}"
        board = f'<div class="sigcalc-board">{team}{self._clock_html()}</div>'
        self.head.value = head_html(heading, board)
        self[BOARD].widget.value = f"{heading}{board}"  # a talk shows the controls, and a heading of its own

    def _clock_html(self) -> str:
        """The clock, which `keys.js` keeps going; still before a signal is begun, and none once the fault is shown."""
        now, seconds = self.standing, round(self[CLOCK].checked())
        if now.phase == SECOND:
            seconds //= 2
        if now.phase == SHOWN:
            return ""
        until = f' data-until="{self._since + seconds:.1f}"' if now.phase != READY else ""
        left = f"{seconds // 60}:{seconds % 60:02d}"
        return f'<b class="sigcalc-countdown" role="timer" data-seconds="{seconds}"{until}>{left}</b>'

    def _sentence(self, teams: tuple[str, str]) -> str:
        now = self.standing
        score = " to ".join(f"{name} {points}" for name, points in zip(teams, now.scores, strict=True))
        if now.phase == SHOWN:
            return f"{self.told()}. The score is {score}."
        doing = "guesses" if now.phase == SECOND else "begins" if now.phase == READY else "measures or names the fault"
        mind = "".join(f" {each.text}" for each in self.point.cautions)
        return f"{self.told()}. {teams[now.turn]} {doing}, for {_points(now.worth)}. The score is {score}.{mind}"

    def _brief(self, teams: tuple[str, str]) -> str:
        now = self.standing
        if now.phase == SHOWN:
            return f"It is “{self.signal.fault.name}”." + (f" {self._winner(teams)}" if now.over else "")
        if now.phase == SECOND:
            return f"{teams[now.turn]}: your guess, for {_points(now.worth)}."
        if now.phase == READY:
            return f"{teams[now.turn]} begins: {_points(now.worth)}, {_points(COST)} less for each reading."
        return self.brief()

    def _winner(self, teams: tuple[str, str]) -> str:
        leader, (one, other) = self.standing.leader, self.standing.scores
        return (
            f"A draw, {one} all."
            if leader is None
            else f"{teams[leader]} wins, {max(one, other)} to {min(one, other)}."
        )

    def _findings(self, teams: tuple[str, str]) -> tuple[Finding, ...]:
        now, fault = self.standing, self.signal.fault
        if now.phase == SHOWN:
            topic = f"{teams[now.turn]} gets {_points(now.won)}" if now.won else "nobody has found it"
            over = f" {self._winner(teams)}" if now.over else ""
            said = f"It is “{fault.name}”. {fault.cause}{over}"
            return (Finding(FINE if now.won else LOOK, topic, said, fault.remedy),)
        if self.elsewhere:
            return self.not_here()
        if now.phase == SECOND:
            said = f"{teams[now.began]} has no idea" if self._named == PASS else f"it is not “{self._named}”"
            return (Finding(LOOK, said, f"Now {teams[now.turn]} guesses, in half the time.", ""),)
        return ()


def _points(count: int) -> str:
    return "1 point" if count == 1 else f"{count} points"


def _team_html(now: Standing, number: int, name: str) -> str:
    """A team on the board: its mark, its name, its score; the one whose turn it is on its colour, and pointed at."""
    turn = number == now.turn and now.phase != SHOWN
    names = f"sigcalc-team sigcalc-team-{number + 1}" + (" sigcalc-turn" if turn else "")
    points = f"{'▶ ' if turn else ''}{_MARKS[number]} {html.escape(name)} <b>{now.scores[number]}</b>"
    return f'<span class="{names}">{points}</span>'


def _note(name: str, markup: str) -> Control:
    """Words among the controls."""
    text = widgets.HTML(markup)
    text.add_class(f"sigcalc-{name}")
    return Control(name, text, text)
