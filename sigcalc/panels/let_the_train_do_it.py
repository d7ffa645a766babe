"""Panels of the lesson "let the train do it": the magnet over the reed, the timer's on-time, and the train passing."""

from __future__ import annotations

import dataclasses
from functools import lru_cache
from typing import Any

import ipywidgets as widgets

from ..design.findings import FINE, STOP, Finding
from ..design.train.hold import Hold, HoldCircuit, hold_at, pot_turn, supply_effect
from ..design.train.magnet_and_reed import largest_gap, side_reach
from ..design.train.passing_odds import passing_odds
from ..design.train.passing_train import PassingTrain, passing_train
from ..design.train.train_run import TrainRun
from ..errors import DesignError, SigcalcError
from ..lessons import let_the_train_do_it as lesson
from ..parts.capacitor import Capacitor, capacitor_kinds
from ..parts.magnet import magnets
from ..parts.reed import ReedType, reeds
from ..parts.scale import prototype_speed
from ..parts.timer import timers
from ..physics.magnetics import ORIENTATIONS
from ..units import Q, say_times
from ..views.findings import Answer
from ..views.let_the_train_do_it import (
    VIEWS,
    WHOLE,
    FillCurve,
    HoldCurve,
    closures_brief,
    closures_picture,
    fill_brief,
    hold_brief,
    moments_of,
    odds_brief,
    odds_picture,
    passing_brief,
    passing_timeline,
)
from ..views.scene.magnet_scene import magnet_over_reed
from ..views.scene.train_parts import timer_board
from ..views.scene.train_scene import train_scene
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, Panel
from .control import Button, NumberControl, choice, positions

ALL, PLACE = "all three", "magnet past the reed"
WHICH = {"least sensitive": "least_sensitive", "middle": "middle", "most sensitive": "most_sensitive"}
REACH = {"least sensitive": "40 mm", "middle": "40 mm", "most sensitive": "60 mm"}
"""How far the axis goes: any magnet of the list closes such a reed within, at any gap, so that the axis stays."""

SAGGED = 0.7
"""To what share of its first voltage a battery sags before it is changed; common practice, no source."""
POT, CAPACITOR = "the pot", "the capacitor"
RATINGS = ("6.3 V", "10 V", "16 V", "25 V", "63 V")

INTERVAL = 400
"""Milliseconds from one picture to the next: 2.5 in a second, so that nothing can flash three times in one."""
PLAY, PAUSE, BACK = "play", "pause", "to the start"
STEPS = 100
STILL = 40
"""The step that is shown at first, and on paper."""
ODDS = "500 trains"
SCALE = "1:48"
SUPPLY = "9 V"
TRAINS = 500
MAGNET, CLEAR = "10 mm", "500 mm"
"""How far the magnet lies behind the train's front, and from the reed to where the last wheel must have passed."""
THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS = "passes", "other way", "halts", "2 magnets"
STOP_AT, STOP_TIME = "10 mm", "20 s"
"""Where the magnet of a train that halts is past the reed, and for how long."""
_INSET = 0.04  # m: how far the second magnet lies from the train's end


class MomentControl(NumberControl):
    """From `least` to `most`: buttons to play by `pace`, pause and go back; the slider's arrow keys go step by step.

    ipywidgets' player keeps the time, but its own buttons are pictures without a name: it is hidden, and buttons with
    words take its place.
    """

    def __init__(self, name: str, least: int, most: int, value: int, unit: str = "", step: float = 1, pace: int = 1):
        super().__init__(name, unit, least, most, value, step=step)
        self.player = widgets.Play(min=least, max=most, value=value, step=pace, interval=INTERVAL)
        self.player.layout.display = "none"
        wide = {"width": "auto"}
        self.play = widgets.ToggleButton(description=PLAY, tooltip=f"{PLAY} or {PAUSE}: {name}", layout=wide)
        self.back = Button(description=BACK, tooltip=f"{BACK}: {name}", layout=wide)
        self.player.observe(lambda change: setattr(self, "value", change["new"]), names="value")
        self.player.observe(self._say_whether_it_plays, names="playing")
        self.play.observe(self._pressed, names="value")
        self.back.on_click(lambda _: setattr(self, "value", least))
        self.box.observe(self._follow, names="value")
        self.widget.remove_class("sigcalc-control")
        self.widget = widgets.VBox([self.widget, widgets.HBox([self.play, self.back, self.player])])
        self.widget.add_class("sigcalc-control")

    def enable(self, on: bool) -> None:
        """Let it be moved and played, or grey it out where it counts for nothing."""
        if not on:
            self.player.playing = False
        super().enable(on)
        self.play.disabled = self.back.disabled = not on

    def _pressed(self, change: Any) -> None:
        """Play on, and from the start where it is at the end."""
        if change["new"] and self.player.value == self.player.max:
            self.value = self.player.min
        self.player.playing = change["new"]

    def _say_whether_it_plays(self, change: Any) -> None:
        self.play.value = change["new"]
        self.play.description = PAUSE if change["new"] else PLAY

    def _follow(self, _: Any) -> None:
        """Play on from where slider or box were put."""
        try:
            self.player.value = self.whole
        except SigcalcError:
            return  # the panel asks as well and shows the sentence


class OrientationPanel(Panel):
    """A magnet, a gap, a reed, the three ways in which the magnet may lie, and the place where it is now."""

    wall = (PLACE, "the magnet lies")

    def __init__(self) -> None:
        controls = [
            positions("the magnet lies", [*ORIENTATIONS, ALL], "lengthwise"),  # upright is what the reader guesses at
            MomentControl(PLACE, -40, 40, -10, "mm", step=0.5, pace=2),
            NumberControl("gap", "mm", 1, 30, 5, step=0.5),
            choice("magnet", list(magnets), "8 x 3 mm disc, N35"),
            choice("reed", list(reeds)),
            choice("the one you bought is", list(WHICH), "middle"),
        ]
        super().__init__(controls, "How often does the magnet close the reed?", height="36em")

    def draw(self) -> Answer:
        """The magnet where it is now, the field along the track with the closed stretches, and how far away it works.

        All three orientations are shown for comparison only.
        """
        magnet, reed, gap = self["magnet"].value, reeds[self["reed"].value], self.text("gap")
        lies, which, place = self["the magnet lies"].value, self["the one you bought is"].value, self.text(PLACE)
        bought = getattr(reed, WHICH[which])
        shown = ORIENTATIONS if lies == ALL else (lies,)
        brief = closures_brief(magnet, bought, gap, shown)
        chart = closures_picture(magnet, bought, gap, shown, self.size, place, REACH[which])
        if lies == ALL:
            return Answer((chart,), chart.sentence, brief=brief)
        scene = magnet_over_reed(magnet, bought, gap, lies, place, self.size)
        said = f"{scene.sentence} {chart.sentence}"
        return Answer((scene, chart), said, _limits(magnet, reed, gap, lies), brief)


def _limits(magnet: str, reed: ReedType, gap: str, lies: str) -> tuple[Finding, ...]:
    """The largest gap, and how far away a neighbouring track must be."""
    try:
        found = largest_gap(magnet, reed, lies, gap).findings
    except DesignError as never:
        return (Finding(STOP, f"{lies} magnet", f"{never}."),)
    return (*found, *side_reach(magnet, reed, gap, lies).findings)


class HoldTimerPanel(Panel):
    """A timer with its capacitor, pot and end resistor, and the on-time that is wanted."""

    wall = ("turn of the pot", "supply", "timer")

    def __init__(self) -> None:
        self.curve, self.fill = HoldCurve(), FillCurve()
        controls = [
            NumberControl("supply", "V", 3, 18, 9),
            choice("timer", list(timers), "one-shot", narrow=True),
            choice("capacitor rated", RATINGS, "16 V", narrow=True),
            NumberControl("turn of the pot", "%", 0, 100, 40, step=1),
            NumberControl("capacitor", "µF", 1, 1000, 100, logarithmic=True),
            choice("kind", list(capacitor_kinds), "electrolytic", narrow=True),
            NumberControl("pot", "kohm", 10, 1000, 220, logarithmic=True),
            NumberControl("end resistor", "kohm", 0.1, 100, 4.7, logarithmic=True),
            NumberControl("on-time wanted", "s", 1, 30, 10, step=0.5),
            positions("chart of", [POT, CAPACITOR]),
        ]
        super().__init__(controls, "How long does the timer stay on?", height="39em")

    def draw(self) -> Answer:
        """The on-time against the pot's turn, where to turn it, what a flat battery does, and what is amiss."""
        supply, wanted, turn = self.text("supply"), self.text("on-time wanted"), self.text("turn of the pot")
        capacitor = Capacitor(self["kind"].value, self.text("capacitor"), self["capacitor rated"].value)
        circuit = HoldCircuit(self["timer"].value, capacitor, self.text("pot"), self.text("end resistor"))
        result = hold_at(circuit, supply, turn)
        picture, brief = self.fill.picture(result, self.size), fill_brief(result)
        if self["chart of"].value == POT:
            picture, brief = self.curve.picture(result, wanted, self.size), hold_brief(result)
        told = [_not_twice(each, result) for each in result.findings if each.grade != FINE]
        try:
            told += pot_turn(circuit, supply, wanted).findings
        except DesignError as beyond:
            told.append(Finding(STOP, "pot", f"{beyond.worded('on-time wanted')}."))
        sags = supply_effect(circuit, supply, Q(supply) * SAGGED, turn)
        if sags.grade != FINE or self["chart of"].value == CAPACITOR:  # the reader guesses at it first
            told.insert(0, sags)  # of those of one grade the first is the verdict
        pictures = (picture,) if self.on_stage else (timer_board(result.si.turn, self.size), picture)
        return Answer(pictures, picture.sentence, tuple(told), brief)


def _not_twice(finding: Finding, result: Hold) -> Finding:
    """The band is in the sentence already; of its finding what to do about it is left."""
    return dataclasses.replace(finding, reason="The band is wide.") if finding.reason == result.sentence else finding


class PassingTrainPanel(Panel):
    """A train on Quillhaven's main line, and the signal that it works."""

    first_shown = AS_IT_LOOKS
    wall = ("moment (step)", "speed of the model", "on-time")

    def __init__(self) -> None:
        controls = [
            MomentControl("moment (step)", 0, STEPS, STILL),
            choice("view", [*VIEWS, ODDS], narrow=True),
            choice("timer", list(timers), "one-shot", narrow=True),
            # as printed enough for this train, but not with every set of bought parts: among many trains some fail
            NumberControl("on-time", "s", 2, 20, 6.5, step=0.5),
            NumberControl("gap", "mm", 2, 20, 5, step=0.5),
            NumberControl("speed of the model", "m/s", 0.05, 1.5, 0.3, step=0.05),
            NumberControl("length of the train", "mm", 200, 3000, 900, step=50),
            NumberControl("reed beyond the signal", "mm", 0, 300, 50, step=5),
            choice("the train", [THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS], narrow=True),
            choice("magnet lies", ORIENTATIONS, "upright", narrow=True),
        ]
        super().__init__(controls, "Does the train get its red, and for long enough?", height="45em", scene=True)

    def draw(self) -> Answer:
        """The view at its moment; in the findings what is right and wrong with this passing."""
        view = self["view"].value
        self["moment (step)"].enable(view != ODDS)  # among many trains there is no moment to choose
        run = self.run
        if view == ODDS:
            odds = _odds(run, TRAINS)
            picture = odds_picture(odds, size=self.size)
            return Answer((picture,), picture.sentence, odds.findings, odds_brief(odds))
        result = _passed(run)
        moment = float(moments_of(result, view, STEPS + 1)[self["moment (step)"].whole])
        brief = view == WHOLE and self.show.value != AS_IT_IS_DRAWN
        pictures = self.pictured(
            lambda: train_scene(result, moment, self.show.value == AS_IT_LOOKS, self.size),
            lambda: passing_timeline(result, view, moment, brief, self.size),
        )
        said = f"{_verdict(result)} {pictures[0].sentence}"
        return Answer(pictures, said, result.findings, passing_brief(result))

    @property
    def run(self) -> TrainRun:
        """What the controls say; raises as the library does where it cannot be."""
        does, length = self["the train"].value, self.text("length of the train")
        last = Q(length) - Q(_INSET, "m") if does == TWO_MAGNETS else None
        stop = {"stop_at": STOP_AT, "stop_time": STOP_TIME} if does == HALTS else {}
        circuit = _circuit(self["timer"].value)
        return TrainRun(
            magnet=lesson.MAGNET,
            reed=lesson.REED,
            gap=self.text("gap"),
            orientation=self["magnet lies"].value,
            circuit=circuit,
            turn=pot_turn(circuit, SUPPLY, self.text("on-time")).turn,
            supply=SUPPLY,
            relay="9 V two-pole sensitive",
            length=length,
            speed=self.text("speed of the model"),
            magnet_from_front=MAGNET,
            reed_beyond=self.text("reed beyond the signal"),
            clearing_distance=CLEAR,
            last_magnet=last,
            backwards=does == OTHER_WAY,
            **stop,
        )


@lru_cache(maxsize=8)
def _circuit(timer: str) -> HoldCircuit:
    return HoldCircuit(timer, Capacitor("electrolytic", "100 µF", "16 V"), "270 kohm", "4.7 kohm")


# kept while only the moment moves: a picture of a known passing takes milliseconds
_passed, _odds = lru_cache(maxsize=16)(passing_train), lru_cache(maxsize=16)(passing_odds)


def _verdict(result: PassingTrain) -> str:
    """What becomes of this train, and how fast it would be on the prototype."""
    miles = prototype_speed(result.run.speed, SCALE).m_as("mile/hour")
    verdict = result.verdict[0].upper() + result.verdict[1:]
    return f"{verdict}, at a scale {say_times(miles)} mph ({SCALE})."
