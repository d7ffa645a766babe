"""What a relay-worked signal shows when something fails, for each way of wiring its coil, and what that way costs.

The prototype's rule is the closed circuit (title 49 of the United States' Code of Federal Regulations, sections 236.5
and 236.205): the favourable aspect is held up by a current that flows, so that whatever ends the current, a broken
wire, a flat battery, a relay that has dropped, brings the signal to its most restrictive aspect. A two-lead signal
cannot go all the way: without power it is dark, and a dark signal is to be read as stop.

Nothing here is listed by hand: each failure changes the coil, the contacts, the wires or the lamps, and what is then
shown follows from which points are joined.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...errors import DesignError, RangeError
from ...parts.contacts import Join
from ...parts.relay import Relay, as_relay
from ...units import Charge, Count, Current, SupplyVoltage, Time, record, say, with_units
from ..findings import FINE, LOOK, Finding
from .wiring import DARK, GREEN, RED, Wiring, show, wirings

FED_FOR_GREEN, FED_FOR_RED, LATCHING = "coil fed for green", "coil fed for red", "latching relay"
RIGHT, SAFE_SIDE, DARK_SIDE, WRONG_SIDE = "as it should", "safe side", "dark", "wrong side"
AS_IT_WAS = "what it showed last"

CLOSED_CIRCUIT = (
    "On the prototype a current holds up the favourable aspect, so that whatever ends it brings the signal to stop "
    "(the closed circuit, 49 CFR 236.5 and 236.205)."
)

_GRAVEST_FIRST = (WRONG_SIDE, DARK_SIDE, SAFE_SIDE, RIGHT)
_WANTED = (RED, GREEN)
_OFF, _ON, _OPEN = "coil off", "coil on", "open"


@dataclass(frozen=True)
class FailureCase:
    """One failure while one aspect is wanted, and what is shown."""

    failure: str
    wanted: str
    shows: str

    @property
    def side(self) -> str:
        """Which side it fails to: "as it should", "safe side" (red for green), "dark" or "wrong side"."""
        if self.shows == self.wanted:
            return RIGHT
        return {RED: SAFE_SIDE, GREEN: WRONG_SIDE}.get(self.shows, DARK_SIDE)

    @property
    def sentence(self) -> str:
        """The case in words."""
        return f"{self.failure}: {self.shows} when it should be {self.wanted} ({self.side})"


@dataclass(frozen=True)
class _Failure:
    """What a failure does: to the coil, to each contact ("" where it follows the coil), to a wire, to a lamp."""

    name: str
    coil: str = ""
    contacts: tuple[str, str] = ("", "")
    lost: tuple[Join, ...] = ()
    lamp: str = ""


@record
class Scheme:
    """One way of wiring the coil.

    Attributes
    ----------
    cases: every failure under each wanted aspect, the gravest first
    at_power_up: what shows before the coil has had its first current
    coil_charge, lamp_charge: what coil and lamp use in an hour
    """

    name: str
    relay: Relay
    cases: tuple[FailureCase, ...]
    at_power_up: str
    coil_charge: Charge
    lamp_charge: Charge

    def on(self, side: str) -> tuple[FailureCase, ...]:
        """The cases on one side: "wrong side", "dark", "safe side" or "as it should"."""
        return tuple(each for each in self.cases if each.side == side)

    @property
    def cost(self) -> str:
        """The charge of an hour, in words."""
        coil, lamp = (f"{each.m_as('mAh'):.3g} mAh" for each in (self.coil_charge, self.lamp_charge))
        return f"In an hour the coil uses {coil} and the lamp {lamp}."

    @property
    def sentence(self) -> str:
        """Safety and cost in words."""
        wrong, dark, safe = (len(self.on(each)) for each in (WRONG_SIDE, DARK_SIDE, SAFE_SIDE))
        return (
            f"{self.name[0].upper()}{self.name[1:]}: in {wrong} of {len(self.cases)} failures it shows green when it "
            f"should be red, in {dark} it is dark, and in {safe} it shows red when it should be green. At power-up it "
            f"shows {self.at_power_up}. {self.cost}"
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts: what fails to the wrong side, what is dark, and what the coil costs."""
        wrong, safe = (", ".join(case.failure for case in self.on(side)) for side in (WRONG_SIDE, SAFE_SIDE))
        said = f"Green shows in place of red after: {wrong or 'nothing'}. Red shows in place of green after: {safe}."
        failures = Finding(FINE, "failures", f"{said} {CLOSED_CIRCUIT}")
        if self.name != FED_FOR_GREEN:
            remedy = "Feed the coil for green if safety is to be shown as on the prototype; count the charge first."
            failures = replace(failures, grade=LOOK, remedy=remedy)
        dark = len({case.failure for case in self.on(DARK_SIDE)})
        said = f"{dark} failures can leave the signal dark, a lost supply among them: two leads show nothing then."
        tell = "Tell everyone who runs a train that a dark signal means stop."
        charge = Finding(FINE, "charge", self.cost)
        if self.si.coil_charge > self.si.lamp_charge:
            remedy = "Use a relay with a sensitive coil, or an adapter in place of a battery."
            charge = replace(charge, grade=LOOK, remedy=remedy)
        return (failures, Finding(FINE, "dark signal", said, tell), charge)


@with_units(scalar=True)
def fail_safe(
    relay: str | Relay,
    supply: SupplyVoltage,
    hold: Time = "10 s",
    trains_per_hour: Count = 12,
    lamp_current: Current = "10 mA",
    pulse: Time = "100 ms",
) -> tuple[Scheme, ...]:
    """Every way of wiring a two-pole relay's coil: fewest wrong-side failures first, then least charge.

    Parameters
    ----------
    relay: a name in `relays` or a record; one that latches has a single way
    hold, trains_per_hour: how long the signal is red for a train, and how often
    lamp_current: of the lamp that is lit, the same for both
    pulse: what a latching coil is given at each change

    Raises DesignError for a relay with fewer than two poles; RangeError where the holds of an hour
    are longer than the hour, or the supply is not above 0 V.
    """
    relay = as_relay(relay)
    if relay.si.poles < 2:
        why = "has one moving contact, and to turn the current round takes two; use a two-pole relay"
        raise DesignError(f"relay {relay.name} {why}")
    if not supply > 0:
        raise RangeError(argument="supply", need="more than 0 V", given=say(supply, "V"), example="9 V")
    red_share = hold * trains_per_hour / 3600
    if red_share > 1:
        need = f"no more than {say(3600 / trains_per_hour, 's')} for {trains_per_hour:g} trains an hour"
        raise RangeError(argument="hold", need=need, given=say(hold, "s"), advice="the signal would never be green")
    fed = {FED_FOR_GREEN: 1 - red_share, FED_FOR_RED: red_share, LATCHING: 2 * pulse * trains_per_hour / 3600}
    current = supply / relay.si.coil_resistance
    schemes = [
        Scheme.of(
            name=name,
            relay=relay,
            cases=_cases(name),
            at_power_up=AS_IT_WAS if name == LATCHING else _shown(_signal(name), (_OFF, _OFF)),
            coil_charge=current * fed[name],
            lamp_charge=lamp_current,
        )
        for name in ((LATCHING,) if relay.latching else (FED_FOR_GREEN, FED_FOR_RED))
    ]
    return tuple(sorted(schemes, key=lambda each: (len(each.on(WRONG_SIDE)), each.si.coil_charge)))


def _signal(scheme: str) -> Wiring:
    """The relay's contacts, supply and signal; red while the coil rests, or with the signal's leads exchanged."""
    wiring = wirings["crossed two-pole relay"]
    if scheme != FED_FOR_RED:
        return wiring
    ((name, a, b),) = wiring.signals
    return replace(wiring, name=f"{wiring.name}, leads exchanged", signals=((name, b, a),))


def _failures(wiring: Wiring) -> list[_Failure]:
    feed = tuple(each for each in wiring.jumpers if wiring.poles[0] in each)
    coil_dead = ("coil open", "wire to the coil broken", "supply too low for the coil")
    stuck = {"stuck at rest": _OFF, "stuck operated": _ON}
    alone = stuck | {"does not close": _OPEN}
    return [
        *(_Failure(each, _OFF) for each in coil_dead),
        _Failure("coil always fed", _ON),
        _Failure("supply lost", _OFF, lost=feed),
        *(_Failure(f"both contacts {how}", contacts=(at, at)) for how, at in stuck.items()),
        *(_Failure(f"contact 1 {how}", contacts=(at, "")) for how, at in alone.items()),
        *(_Failure(f"contact 2 {how}", contacts=("", at)) for how, at in alone.items()),
        *(_Failure(f"wire from {wire[0]} to {wire[1]} broken", lost=(wire,)) for wire in wiring.jumpers),
        *(_Failure(f"{lamp} lamp open", lamp=lamp) for lamp in _WANTED),
    ]


def _cases(scheme: str) -> tuple[FailureCase, ...]:
    wiring = _signal(scheme)
    cases = []
    for failure in _failures(wiring):
        for wanted in _WANTED:
            position = _position(scheme, wanted, failure)
            shows = _shown(wiring, tuple(each or position for each in failure.contacts), failure.lost)
            cases.append(FailureCase(failure.name, wanted, DARK if shows == failure.lamp else shows))
    return tuple(sorted(cases, key=lambda case: _GRAVEST_FIRST.index(case.side)))


def _position(scheme: str, wanted: str, failure: _Failure) -> str:
    """Where the coil puts the contacts. A dead coil that latches leaves them where they were: at the other aspect."""
    fed = wanted == (RED if scheme == FED_FOR_RED else GREEN)
    if failure.coil == _OFF:
        fed = scheme == LATCHING and not fed
    return _ON if fed or failure.coil == _ON else _OFF


def _shown(wiring: Wiring, contacts: tuple[str, ...], lost: tuple[Join, ...] = ()) -> str:
    closed = [
        join
        for pole, position in zip(wiring.contacts, contacts, strict=True)
        for join in (() if position == _OPEN else wiring.closed([position]))
        if join[0] in pole
    ]
    left = replace(wiring, jumpers=tuple(each for each in wiring.jumpers if each not in lost))
    return show(left, closed, "").lamps[0]
