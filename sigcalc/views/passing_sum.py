"""The sum by hand for a passing train: the hold of the timer, and the hold that the train needs."""

from __future__ import annotations

import math

from ..design.train.passing_train import PassingTrain, passing_train
from ..design.train.train_run import TrainRun
from ..errors import DesignError
from ..physics.rc import one_shot_time
from ..units import say
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


def passing_by_hand(run: TrainRun, size: Size = NORMAL) -> SumByHand:
    """R C ln 3, and the train's way over its speed, set against what following every part gives.

    Raises DesignError for a timer whose trip is not two thirds of its supply, or a train that halts.
    """
    result, si, circuit = passing_train(run), run.si, run.circuit
    ohms, farad = float(circuit.resistance_at(si.turn)), circuit.capacitor.si.capacitance
    hold = float(one_shot_time(ohms, farad))
    if circuit.timer.discharges or not math.isclose(hold, run.hold, rel_tol=1e-6):
        raise DesignError(f"the {circuit.timer.name} timer does not hold for R C ln 3; take the one-shot")
    if run.stop_at is not None:
        raise DesignError("a train that halts has no single speed; leave out stop_at")
    way = si.length - si.magnet_from_front + si.clearing_distance
    steps = (
        Step(
            "The resistance at this turn of the pot",
            f"{_say(circuit.si.end_resistor, 'ohm')} + {_say(si.turn, '')} of {_say(circuit.si.pot, 'ohm')}",
            _say(ohms, "ohm"),
        ),
        Step("One time constant", f"{_say(ohms, 'ohm')} × {_say(farad, 'F')}", _say(ohms * farad, "s")),
        Step("The hold", f"{_say(ohms * farad, 's')} × {math.log(3):.4g}, which is ln 3", _say(hold, "s")),
        Step(
            "The way of the last wheel, from the closing on",
            f"{_say(si.length, 'm')} − {_say(si.magnet_from_front, 'm')} + {_say(si.clearing_distance, 'm')}",
            _say(way, "m"),
        ),
        Step(
            "The time it takes",
            f"{_say(way, 'm')} ÷ {_say(si.speed, 'm/s')}",
            _say(way / si.speed, "s"),
        ),
        Step(
            "The slowest train that this hold covers", f"{_say(way, 'm')} ÷ {_say(hold, 's')}", _say(way / hold, "m/s")
        ),
    )
    return SumByHand("The hold by hand", steps, _sentence(result), size)


def _sentence(result: PassingTrain) -> str:
    si = result.si
    if si.red_until is None:
        return f"Following every part, the library finds that this train is not given its red. {result.sentence}"
    return (
        f"Following every part, the library finds red for {say(si.red_until - si.red_from, 's')} and a need of "
        f"{say(si.needed, 's')}: the reed closes a little before the magnet is over it, and the relay takes a moment."
    )


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)
