"""The train that sets a plan's signal: does the reed close, for how long, and is the on-time long enough."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from ..design.findings import FINE, STOP, Finding
from ..design.pair import fail_safe
from ..design.train.hold import hold_at, pot_turn, supply_effect
from ..design.train.magnet_and_reed import largest_gap, side_reach
from ..design.train.passing_train import PassingTrain, hold_findings, passing_train, train_hold
from ..design.train.train_run import SPARE, TrainRun
from ..design.train.trigger import Trigger, reed_contact, trigger
from ..errors import SigcalcError
from ..parts.reed import reeds
from ..units import Q, kind_of, say
from ..units.kinds import Voltage
from .evening import study_coil
from .model import PlanFields
from .result import Figure, TriggerStudy, sentence
from .signal_fields import TriggerSpec
from .trigger_bench import parts, positions, steps


@dataclass
class _Gathered:
    """What is known so far of one plan's trigger."""

    plan: PlanFields
    wish: TriggerSpec
    speed: float
    hold: float
    figures: dict[str, Figure] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    turn: float | None = None

    @property
    def volts(self) -> float:
        return self.plan.supply.corners()[1]

    def ask(self, topic: str, question: Callable[[], Iterable[Finding]]) -> None:
        """Add the answer's findings; a refusal is one as well."""
        try:
            self.findings += question()
        except SigcalcError as refused:
            self.findings.append(Finding(STOP, topic, sentence(refused)))

    def figure(self, key: str, label: str, values: tuple[float, float, float], unit: str, depends_on: str) -> None:
        self.figures[key] = Figure(*values, unit, label, depends_on)


def study_trigger(plan: PlanFields, wish: TriggerSpec) -> TriggerStudy:
    """Everything about the train, the reed and the hold."""
    speed = wish.model_speed(plan.scale)
    needed = train_hold(wish.train_length, speed, wish.clearing_distance, wish.magnet_from_front).m_as("s")
    wanted = SPARE * needed if wish.hold is None else wish.hold.m_as("s")
    got = _Gathered(plan, wish, speed.m_as("m/s"), wanted)
    got.figure("hold_needed", "hold that the train needs", (needed,) * 3, "s", "its length and speed")
    got.figure("hold_wanted", "hold to be set with a watch", (wanted,) * 3, "s", "the pot's setting")
    got.ask("gap", lambda: _gap(got))
    got.ask("trigger", lambda: _passing(got))
    got.ask("neighbouring track", lambda: _beside(got))
    got.ask("reed's contacts", lambda: _contacts(got))
    got.ask("on-time", lambda: _hold(got))
    got.findings += hold_findings(needed, wanted, got.speed)
    got.ask("failures", lambda: _failing(got))
    figures, findings = study_coil(plan)
    got.figures |= figures
    got.findings += findings
    passing = _in_time(got)
    return TriggerStudy(
        figures=got.figures,
        findings=tuple(got.findings),
        parts=parts(wish, plan),
        positions=positions(wish, got.figures),
        steps=steps(wish, wanted),
        assumptions=_assumptions(got),
        passing=passing,
    )


def _gap(got: _Gathered) -> Iterable[Finding]:
    wish = got.wish
    found = largest_gap(wish.make_magnet(), wish.reed, wish.orientation, wish.gap)
    si = found.si
    got.figure("reed_gap", "largest gap", (si.least, si.nominal, si.most), "m", "magnet and reed as bought")
    return found.findings


def _passing(got: _Gathered) -> Iterable[Finding]:
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
    for key, label, band in (
        ("reed_closed", "longest closure of the reed", found.closed),
        ("fastest_train", "fastest train that still triggers", found.fastest),
    ):
        got.figure(key, label, tuple(band), band.unit, "magnet and reed as bought")
    return [*found.findings, *_own_red(got, found)]


def _own_red(got: _Gathered, found: Trigger) -> Iterable[Finding]:
    """Whether the train's front is past the signal when it turns red."""
    if not found.best:
        return []
    earliest = found.best[0][0]
    past = got.wish.magnet_from_front.m_as("m") + earliest
    least = max(0.0, -past)
    beyond = got.wish.beyond.m_as("m")
    if least > 0:
        got.figure("reed_beyond_least", "reed beyond the signal, at the least", (least,) * 3, "m", "where it closes")
    reason = (
        f"The reed lies {say(beyond, 'm')} beyond the signal and closes at the earliest with the train's front "
        f"{say(abs(beyond + past), 'm')} {'past' if beyond + past >= 0 else 'short of'} it."
    )
    if beyond < least:
        remedy = f"Lay the reed {say(least, 'm')} or more beyond the signal: else the train sees its own red."
        return [Finding(STOP, "place of the reed", reason, remedy)]
    return [Finding(FINE, "place of the reed", f"{reason} The train has passed the signal before it turns red.")]


def _beside(got: _Gathered) -> Iterable[Finding]:
    wish = got.wish
    if wish.neighbour is None:
        return []
    found = side_reach(wish.make_magnet(), wish.reed, wish.gap, wish.orientation, wish.neighbour)
    si = found.si
    got.figure("side_reach", "reach beside the reed", (si.least, si.nominal, si.most), "m", "magnet and reed as bought")
    return found.findings


def _contacts(got: _Gathered) -> Iterable[Finding]:
    wish, most = got.wish, got.plan.supply.corners()[2]
    amperes = most / (wish.reed_resistor + reeds[wish.reed].contact_resistance).m_as("ohm")
    return reed_contact(wish.reed, Q(most, "V"), Q(amperes, "A")).findings


def _hold(got: _Gathered) -> Iterable[Finding]:
    """The pot's setting, the on-time with it, and what a falling battery does to it."""
    circuit, supply = got.wish.circuit(), Q(got.volts, "V")
    setting = pot_turn(circuit, supply, Q(got.hold, "s"))
    si, depends_on = setting.si, "timer, capacitor, pot and end resistor as bought"
    got.turn = si.turn
    got.figure("pot_turn", "turn of the pot", (si.turn_min, si.turn, si.turn_max), "", depends_on)
    at = hold_at(circuit, supply, si.turn)
    if at.hold_max is not None:
        band = (at.si.hold_min, at.si.hold, at.si.hold_max)
        got.figure("hold_by_scale", "hold with the pot set by its scale alone", band, "s", depends_on)
    found = [*setting.findings, *at.findings]
    flat = _flat(got.plan)
    if flat is not None and flat < got.volts:
        found += supply_effect(circuit, supply, Q(flat, "V"), si.turn).findings
    return found


def _flat(plan: PlanFields) -> float | None:
    """The voltage at which the evening's battery counts as done, where it is given as one."""
    if plan.supply.kind != "battery" or plan.evening is None:
        return None
    until = Q(plan.evening.until)
    return until.m_as("V") if until.check(kind_of(Voltage).pint_unit.dimensionality) else None


def _failing(got: _Gathered) -> Iterable[Finding]:
    """What shows when something fails, and the coil's charge for it, where the number of trains is given."""
    wish, plan = got.wish, got.plan
    if wish.trains_per_hour is None or plan.relay is None:
        return []
    lamp = plan.drive.current
    schemes = fail_safe.fail_safe(plan.relay, Q(got.volts, "V"), Q(got.hold, "s"), wish.trains_per_hour, lamp)
    fed = {"red": fail_safe.FED_FOR_RED, "green": fail_safe.FED_FOR_GREEN}[plan.coil_fed_for]
    scheme = next((each for each in schemes if each.name == fed), schemes[0])
    got.figure("coil_charge", "charge for the coil in an hour", (scheme.si.coil_charge,) * 3, "Ah", "the trains")
    return scheme.findings


def _in_time(got: _Gathered) -> PassingTrain | None:
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


def _assumptions(got: _Gathered) -> tuple[str, ...]:
    said = [
        "The reed's leads are cropped close to the glass, and no iron (rail, wheel, frame) is near magnet or reed.",
        f"The hold is set with a watch at {say(got.volts, 'V')}; the band by the pot's scale shows why.",
    ]
    if got.wish.hold is None:
        said.append(f"The hold is {say(SPARE - 1, '')} longer than the train needs (common practice, no source).")
    return tuple(said)
