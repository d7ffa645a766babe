"""The train that sets a plan's signal: does the reed close, for how long, and is the on-time long enough."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

from ..design.findings import FINE, STOP, Finding
from ..design.pair import fail_safe
from ..design.tolerance import Band
from ..design.train.hold import hold_at, pot_turn, supply_effect
from ..design.train.magnet_and_reed import largest_gap, side_reach
from ..design.train.passing_train import PassingTrain, hold_findings, passing_train, train_hold
from ..design.train.train_run import SPARE, TrainRun
from ..design.train.trigger import Trigger, reed_contact, trigger
from ..parts.reed import reeds
from ..units import Q, kind_of, say
from ..units.kinds import Voltage
from .bench import trigger_parts, trigger_positions, trigger_steps
from .evening import tell_of_coil
from .model import PlanFields
from .result import TriggerStudy
from .signal_fields import TriggerSpec

_AS_BOUGHT = "magnet and reed as bought"


@dataclass
class _Asked(TriggerStudy):
    """One plan's trigger, as far as it is known."""

    plan: PlanFields | None = None
    wish: TriggerSpec | None = None
    speed: float = 0.0
    hold: float = 0.0
    turn: float | None = None

    @property
    def volts(self) -> float:
        return self.plan.supply.corners()[1]


def study_trigger(plan: PlanFields, wish: TriggerSpec) -> TriggerStudy:
    """Everything about the train, the reed and the on-time."""
    speed = wish.model_speed(plan.scale)
    needed = train_hold(wish.train_length, speed, wish.clearing_distance, wish.magnet_from_front).m_as("s")
    wanted = SPARE * needed if wish.hold is None else wish.hold.m_as("s")
    got = _Asked(plan=plan, wish=wish, speed=speed.m_as("m/s"), hold=wanted)
    got.figure("hold_needed", "on-time that the train needs", Band.exactly(needed, "s"), "its length and speed")
    got.figure("hold_wanted", "on-time to be set with a watch", Band.exactly(wanted, "s"), "the pot's setting")
    for topic, question in (
        ("gap", _gap),
        ("trigger", _passing),
        ("neighbouring track", _beside),
        ("reed's contacts", _contacts),
        ("on-time", _hold),
    ):
        got.ask(topic, partial(question, got))
    got.findings += hold_findings(needed, wanted, got.speed)
    got.ask("failures", partial(_failing, got))
    tell_of_coil(got, plan)
    got.passing = _in_time(got)
    got.parts, got.positions, got.steps = (
        trigger_parts(wish, plan),
        trigger_positions(wish, got.figures),
        trigger_steps(wish, wanted),
    )
    got.assumptions += _assumptions(got)
    return got


def _gap(got: _Asked) -> Iterable[Finding]:
    wish = got.wish
    found = largest_gap(wish.make_magnet(), wish.reed, wish.orientation, wish.gap)
    si = found.si
    got.figure("reed_gap", "largest gap", Band(si.least, si.nominal, si.most, "m"), _AS_BOUGHT)
    return found.findings


def _passing(got: _Asked) -> Iterable[Finding]:
    wish, speed = got.wish, Q(got.speed, "m/s")
    found = trigger(
        wish.make_magnet(),
        wish.reed,
        wish.gap,
        wish.orientation,
        speed,
        Q(wish.circuit().least_pulse(wish.reed_resistor.m_as("ohm")), "s"),
        hold=Q(got.hold, "s"),
        both_ways=wish.both_ways,
        may_stop=wish.may_stop,
    )
    got.figure("reed_closed", "longest closure of the reed", found.closed, _AS_BOUGHT)
    got.figure("fastest_train", "fastest train that still triggers", found.fastest, _AS_BOUGHT)
    return [*found.findings, *_own_red(got, found)]


def _own_red(got: _Asked, found: Trigger) -> Iterable[Finding]:
    """Whether the train's front is past the signal when it turns red."""
    if not found.best:
        return []
    earliest = found.best[0][0]
    past = got.wish.magnet_from_front.m_as("m") + earliest
    least = max(0.0, -past)
    beyond = got.wish.beyond.m_as("m")
    if least > 0:
        got.figure("reed_beyond_least", "reed beyond the signal, at least", Band.exactly(least, "m"), "where it closes")
    reason = (
        f"The reed lies {say(beyond, 'm')} beyond the signal and closes at the earliest with the train's front "
        f"{say(abs(beyond + past), 'm')} {'past' if beyond + past >= 0 else 'short of'} it."
    )
    if beyond < least:
        remedy = f"Lay the reed at least {say(least, 'm')} beyond the signal, or the train sees its own red too early."
        return [Finding(STOP, "place of the reed", reason, remedy)]
    return [Finding(FINE, "place of the reed", f"{reason} The train has passed the signal before it turns red.")]


def _beside(got: _Asked) -> Iterable[Finding]:
    wish = got.wish
    if wish.neighbour is None:
        return []
    found = side_reach(wish.make_magnet(), wish.reed, wish.gap, wish.orientation, wish.neighbour)
    si = found.si
    got.figure("side_reach", "reach beside the reed", Band(si.least, si.nominal, si.most, "m"), _AS_BOUGHT)
    return found.findings


def _contacts(got: _Asked) -> Iterable[Finding]:
    wish, most = got.wish, got.plan.supply.corners()[2]
    amperes = most / (wish.reed_resistor + reeds[wish.reed].contact_resistance).m_as("ohm")
    return reed_contact(wish.reed, Q(most, "V"), Q(amperes, "A"))


def _hold(got: _Asked) -> Iterable[Finding]:
    """The pot's setting, the on-time with it, and what a falling battery does to it."""
    circuit, supply = got.wish.circuit(), Q(got.volts, "V")
    setting = pot_turn(circuit, supply, Q(got.hold, "s"))
    si, depends_on = setting.si, "timer, capacitor, pot and end resistor as bought"
    got.turn = si.turn
    got.figure("pot_turn", "turn of the pot", Band(si.turn_min, si.turn, si.turn_max), depends_on)
    at = hold_at(circuit, supply, si.turn)
    if at.hold_max is not None:
        band = Band(at.si.hold_min, at.si.hold, at.si.hold_max, "s")
        got.figure("hold_by_scale", "on-time with the pot set by its scale alone", band, depends_on)
    found = [*setting.findings, *at.findings]
    flat = _flat(got.plan)
    if flat is not None and flat < got.volts:
        found.append(supply_effect(circuit, supply, Q(flat, "V"), si.turn))
    return found


def _flat(plan: PlanFields) -> float | None:
    """The voltage at which the evening's battery counts as done, where it is given as one."""
    if plan.supply.kind != "battery" or plan.evening is None:
        return None
    until = Q(plan.evening.until)
    return until.m_as("V") if until.check(kind_of(Voltage).pint_unit.dimensionality) else None


def _failing(got: _Asked) -> Iterable[Finding]:
    """What shows when something fails, and the coil's charge for it, where the number of trains is given."""
    wish, plan = got.wish, got.plan
    if wish.trains_per_hour is None or plan.relay is None:
        return []
    lamp = plan.drive.current
    schemes = fail_safe.fail_safe(plan.relay, Q(got.volts, "V"), Q(got.hold, "s"), wish.trains_per_hour, lamp)
    fed = {"red": fail_safe.FED_FOR_RED, "green": fail_safe.FED_FOR_GREEN}[plan.coil_fed_for]
    scheme = next((each for each in schemes if each.name == fed), schemes[0])
    got.figure("coil_charge", "charge for the coil in an hour", Band.exactly(scheme.si.coil_charge, "Ah"), "the trains")
    return scheme.findings


def _in_time(got: _Asked) -> PassingTrain | None:
    """The train on one timeline, with parts as printed; None where relay or pot are not known yet."""
    wish, plan = got.wish, got.plan
    if got.turn is None or plan.relay is None:
        return None
    run = TrainRun(
        magnet=wish.make_magnet(),
        reed=wish.reed,
        gap=wish.gap,
        orientation=wish.orientation,
        circuit=wish.circuit(),
        turn=got.turn,
        supply=Q(got.volts, "V"),
        relay=plan.relay,
        length=wish.train_length,
        speed=Q(got.speed, "m/s"),
        magnet_from_front=wish.magnet_from_front,
        reed_beyond=wish.beyond,
        clearing_distance=wish.clearing_distance,
        coil_fed_for=plan.coil_fed_for,
        reed_resistor=wish.reed_resistor,
    )
    return passing_train(run)


def _assumptions(got: _Asked) -> tuple[str, ...]:
    said = [
        "The reed's leads are cut close to the glass, and no iron (rail, wheel, frame) is near magnet or reed.",
        f"The on-time is set with a watch at {say(got.volts, 'V')}; its band by the pot's scale shows why.",
    ]
    if got.wish.hold is None:
        said.append(f"The on-time is {say(SPARE - 1, '')} longer than the train needs (common practice, no source).")
    return tuple(said)
