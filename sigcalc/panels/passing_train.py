"""The train passes: magnet, reed, timer, relay and lamp on one time, played or step by step; and how often it fails."""

from __future__ import annotations

from functools import lru_cache

from ..design.train.hold import HoldCircuit, pot_turn
from ..design.train.passing_odds import PassingOdds, passing_odds
from ..design.train.passing_train import PassingTrain, passing_train
from ..design.train.train_run import TrainRun
from ..parts.capacitor import Capacitor
from ..parts.scale import prototype_speed
from ..parts.timer import timers
from ..physics.magnetics import ORIENTATIONS
from ..units import Q, say_times
from ..views.odds import odds_picture
from ..views.timeline import VIEWS, WHOLE, moments_of, passing_timeline
from ..views.track import track_picture
from .base import Panel
from .control import NumberControl, choice
from .moment import MomentControl
from .scene import Scene

STEPS = 100
STILL = 40
"""The step that is shown at first, and on paper."""
TRACK, ODDS = "the train", "500 trains"
SCALE = "1:48"
SUPPLY = "9 V"
TRAINS = 500
MAGNET, CLEAR = "10 mm", "500 mm"
"""How far the magnet lies behind the train's front, and from the reed to where the last wheel must have passed."""

THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS = "passes", "other way", "halts", "two magnets"
STOP_AT, STOP_TIME = "10 mm", "20 s"
"""Where the magnet of a train that halts is past the reed, and for how long."""
_INSET = 0.04  # m: how far the second magnet lies from the train's end


class PassingTrainPanel(Panel):
    """A train on Quillhaven's main line, and the signal that it works."""

    height = "45em"

    def __init__(self) -> None:
        controls = [
            choice("timer", list(timers), "one-shot", narrow=True),
            choice("magnet lies", ORIENTATIONS, "upright", narrow=True),
            NumberControl("hold", "s", 2, 20, 8, step=0.5),
            NumberControl("gap", "mm", 2, 20, 5, step=0.5),
            NumberControl("speed of the model", "m/s", 0.05, 1.5, 0.3, step=0.05),
            NumberControl("length of the train", "mm", 200, 3000, 900, step=50),
            NumberControl("reed beyond the signal", "mm", 0, 300, 50, step=5),
            choice("the train", [THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS], narrow=True),
            choice("view", [TRACK, *VIEWS, ODDS], narrow=True),
            MomentControl("moment (step)", STEPS, STILL),
        ]
        super().__init__(controls, "Does the train get its red, and for long enough?")

    def redraw(self) -> None:
        """Draw again; among many trains there is no moment to choose."""
        self["moment (step)"].enable(self["view"].value != ODDS)
        super().redraw()

    def draw(self) -> Scene:
        """The view at its moment; in the findings what is right and wrong with this passing."""
        run = self.run
        view = self["view"].value
        if view == ODDS:
            odds = _odds(run)
            picture = odds_picture(odds, size=self.size)
            return Scene((picture,), picture.sentence, odds.findings)
        result = _passed(run)
        moments = moments_of(result, WHOLE if view == TRACK else view, STEPS + 1)
        moment = float(moments[self["moment (step)"].step])
        if view == TRACK:
            track = track_picture(result, moment, size=self.size)
            strip = passing_timeline(result, WHOLE, moment, brief=True, size=self.size)
            return Scene((track, strip), f"{_verdict(result)} {track.sentence}", result.findings)
        timeline = passing_timeline(result, view, moment, size=self.size)
        return Scene((timeline,), f"{_verdict(result)} {timeline.sentence}", result.findings)

    @property
    def run(self) -> TrainRun:
        """What the controls say; raises as the library does where it cannot be."""
        does, length = self["the train"].value, self.text("length of the train")
        last = Q(length) - Q(_INSET, "m") if does == TWO_MAGNETS else None
        stop = {"stop_at": STOP_AT, "stop_time": STOP_TIME} if does == HALTS else {}
        hold = self.text("hold")
        circuit = _circuit(self["timer"].value)
        return TrainRun(
            magnet="8 x 3 mm disc, N35",
            reed="10 W reed, 7 to 21 AT",
            gap=self.text("gap"),
            orientation=self["magnet lies"].value,
            circuit=circuit,
            turn=pot_turn(circuit, SUPPLY, hold).turn,
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


@lru_cache(maxsize=16)
def _passed(run: TrainRun) -> PassingTrain:
    """Kept while only the moment moves: a picture of a known passing takes milliseconds."""
    return passing_train(run)


@lru_cache(maxsize=16)
def _odds(run: TrainRun) -> PassingOdds:
    return passing_odds(run, TRAINS)


def _verdict(result: PassingTrain) -> str:
    """What becomes of this train, and how fast it would be on the prototype."""
    miles = prototype_speed(result.run.speed, SCALE).m_as("mile/hour")
    return f"{result.verdict.capitalize()}, at {say_times(miles)} miles an hour on {SCALE}."
