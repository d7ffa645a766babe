"""What a plan means at the bench: parts to buy, wires to cut, holes to drill, steps; of the train's trigger as well."""

from __future__ import annotations

from dataclasses import replace

from ..design.board.wire_and_holes import CUT_STEPS, CutList, cut_list, lamp_in_hole, wires_in_hole
from ..design.caution import caution_text
from ..design.findings import Finding
from ..errors import SigcalcError
from ..parts.marking import colour_bands, rkm_code
from ..parts.resistor import rating_for
from ..units import Q, say
from .circuit import LAMPS, Circuit, Driver
from .model import PlanFields
from .result import Cut, Figure, PartLine, Step
from .signal_fields import TriggerSpec

PILOT = "1/16 in"  # common practice, no source


def fit_findings(plan: PlanFields) -> list[Finding]:
    """Lamps in their holes, and the wires down the mast."""
    lamp = lamp_in_hole(plan.mast.lamp_outline, plan.mast.lamp_hole)
    wires = wires_in_hole(2, plan.wire.part, plan.mast.wire_hole)
    return [*lamp.findings, *wires.findings, *_cut_list(plan).findings]


def _cut_list(plan: PlanFields) -> CutList:
    mast = plan.mast
    return cut_list(
        mast_height=mast.height,
        distance=plan.wire.distance,
        lamp_heights=[mast.top_lamp, mast.bottom_lamp],
        wire=plan.wire.part,
        slack=plan.wire.slack,
        current=plan.drive.current,
    )


def cuts(plan: PlanFields) -> tuple[Cut, ...]:
    """The pieces of wire."""
    return tuple(
        Cut(each.what, each.colour, plan.wire.part, each.si.length, each.si.strip) for each in _cut_list(plan).pieces
    )


def holes(plan: PlanFields) -> tuple[tuple[str, str], ...]:
    """The holes and their drills."""
    lamps = (("upper", plan.mast.top_lamp), ("lower", plan.mast.bottom_lamp))
    return (
        *((f"{place} lamp, {say(height.m_as('m'), 'm')} up", plan.mast.lamp_hole) for place, height in lamps),
        ("wires down the mast", plan.mast.wire_hole),
        ("pilot for both", PILOT),
    )


def _branch_resistors(circuit: Circuit) -> list[str]:
    return [lamp for lamp in LAMPS if circuit.extra(lamp)]


def _driver_lines(circuit: Circuit, figures: dict[str, Figure]) -> list[PartLine]:
    driver = circuit.driver
    if driver is None:
        return []
    lines = [PartLine(driver.count, driver.name, driver.detail)]
    if driver.setting:
        heat = driver.setting_voltage * max(figures[f"{lamp}_current"].most for lamp in LAMPS)
        lines.append(_resistor_line("resistor, sets the current", driver.setting, heat, circuit.plan))
    return lines


def parts(circuit: Circuit, figures: dict[str, Figure]) -> tuple[PartLine, ...]:
    """What to buy or take out of the drawer."""
    plan, pair = circuit.plan, circuit.pair
    lines = [PartLine(1, f"{led.colour} LED", led.name, note=led.note) for led in (pair.red, pair.green)]
    lines += _driver_lines(circuit, figures)
    if circuit.shared_resistance:
        heat = max(figures[f"{lamp}_shared_power"].most for lamp in LAMPS)
        lines += _resistor_lines(circuit, "shared", circuit.shared_resistance, heat)
    for lamp in _branch_resistors(circuit):
        lines += _resistor_lines(circuit, lamp, circuit.extra(lamp), figures[f"{lamp}_extra_power"].most)
    if pair.series_diode is not None:
        lines.append(PartLine(2, "plain diode", pair.series_diode.name.upper(), note="one in series with each LED"))
    relay = "relay with two changeover contacts" if plan.relay is None else f"relay, {plan.relay}"
    reversing = {"hand switch": "double-pole double-throw switch", "relay": relay}
    supplies = {"adapter": "listed, extra-low-voltage DC", "battery": "fresh"}
    length = say(_cut_list(plan).si.to_buy, "m")
    lines.append(
        PartLine(1, reversing[plan.wiring.reversing], "turns the current round", note="contacts for small currents")
    )
    if plan.wiring.reversing == "relay":
        lines.append(PartLine(1, "flyback diode", "1N4148", note="across the relay's coil, ring towards plus"))
    return (
        *lines,
        PartLine(1, "wire", f"{plan.wire.part}, {length}", note="with waste"),
        PartLine(1, "sleeving", "heat-shrink, a piece for every joint"),
        PartLine(1, "supply", plan.supply.name, note=supplies[plan.supply.kind]),
    )


def _resistor_lines(circuit: Circuit, place: str, ohms: float, heat: float) -> list[PartLine]:
    """One resistor, or the two out of the drawer that make it up."""
    name = "resistor, shared" if place == "shared" else f"resistor, {place} branch"
    combination = circuit.combinations.get(place)
    if combination is None or combination.si.second is None:
        return [_resistor_line(name, ohms, heat, circuit.plan)]
    share = combination.si.first_power / combination.si.power
    together = f"{name}, one of two {combination.arrangement}"
    return [
        _resistor_line(together, each, heat * part, circuit.plan)
        for each, part in ((combination.si.first, share), (combination.si.second, 1 - share))
    ]


def _resistor_line(name: str, ohms: float, heat: float, plan: PlanFields) -> PartLine:
    """A resistor of the plan with its marks and rating."""
    line = _resistor(name, ohms, plan.drive.tolerance)
    try:
        rating = f"{rating_for(Q(heat, 'W'), ambient=plan.limits.ambient).name} or more"
    except SigcalcError as refusal:
        rating = str(refusal)
    marked = f"marked {rkm_code(Q(ohms, 'ohm'))}; " if line.bands else ""
    return replace(line, detail=f"{line.detail}, {rating}", note=f"{marked}at most {say(heat, 'W')} of heat")


def _resistor(name: str, ohms: float, tolerance: float = 0.05) -> PartLine:
    """A resistor; one whose value no code can write goes without bands."""
    try:
        bands = colour_bands(Q(ohms, "ohm"), tolerance)
    except SigcalcError:
        bands = ()
    return PartLine(1, name, f"{say(ohms, 'ohm')}, {say(tolerance, '')}", bands)


def steps(circuit: Circuit) -> tuple[Step, ...]:
    """What to do, in order."""
    return (*_before_soldering(circuit), *_soldering(circuit), *_wiring(circuit))


def _before_soldering(circuit: Circuit) -> list[Step]:
    plan, lamps = circuit.plan, circuit.plan.lamps
    setting = circuit.driver is not None and circuit.driver.setting
    resistors = circuit.shared_resistance or setting or _branch_resistors(circuit)
    limit = "the driver" if circuit.driver else "its resistor"
    measure = [Step("Measure each resistor before you use it, and compare with the table of readings.")]
    return [
        *(measure if resistors else []),
        Step(
            f"Try each LED alone through {limit} on the supply, and mark its anode (the longer lead).",
            caution_text("work", "LED"),
        ),
        Step(
            f"Drill the pilots ({PILOT}), then {plan.mast.lamp_hole} for the lamps and {plan.mast.wire_hole} "
            "for the wires.",
            caution_text("work", "eyes"),
        ),
        Step(
            "Cut the pieces of wire in the list.",
            caution_text("enamelled wire", "enamel") if "enamelled" in plan.wire.part else "",
        ),
        *(Step(each) for each in CUT_STEPS),
        Step(
            f"Set the {lamps.top} LED above the {lamps.bottom} one, the anode of one beside the cathode of the other."
        ),
    ]


def _soldering(circuit: Circuit) -> list[Step]:
    done = [
        Step(
            f"Solder the {lamp} branch's resistor of {say(circuit.extra(lamp), 'ohm')} to one lead of the {lamp} LED; "
            "its far end now counts as that lead."
        )
        for lamp in _branch_resistors(circuit)
    ]
    if circuit.pair.series_diode is not None:
        done.append(
            Step("Solder a diode to each LED's anode, its ring towards the LED; its far end now counts as the anode.")
        )
    joined = [
        *done,
        Step("Solder the LEDs back to back: red anode to green cathode, red cathode to green anode."),
        Step("Slide sleeving over the two long wires, then solder each wire to one of the two joints."),
    ]
    return [
        replace(joined[0], caution=caution_text("work", "soldering")),
        *joined[1:],
        Step("Push the sleeving over the joints, shrink it, pull the wires down.", caution_text("work", "sleeving")),
    ]


def _wiring(circuit: Circuit) -> list[Step]:
    limit = []
    if circuit.driver:
        limit = _driver_steps(circuit.driver)
    elif circuit.shared_resistance:
        into = "Put the shared resistor into one of the two wires, under the baseboard (see the drawing)."
        limit = [Step(into, caution_text("work", "soldering overhead"))]
    coil = []
    if circuit.plan.wiring.reversing == "relay":
        coil = [Step("Solder the flyback diode across the relay's coil, its ring towards plus.")]
    return [
        *limit,
        *coil,
        Step(f"Wire the {circuit.plan.wiring.reversing} crosswise (see the drawing)."),
        Step("With the power off, look for shorts: the meter between the two supply leads must not beep."),
        Step("Switch on and go through the readings in order.", caution_text("work", "supply")),
    ]


def _driver_steps(driver: Driver) -> list[Step]:
    into = Step("Put the driver into the supply's plus lead, ahead of the switch: it passes current one way only.")
    if driver.setting:
        build = (
            f"Solder the resistor of {say(driver.setting, 'ohm')} from the regulator's output to its adjust pin. "
            "Plus goes to its input, and the lamps' lead starts at the adjust pin."
        )
        return [Step(build, "Not all regulators have their pins in one order: see the data sheet."), into]
    if driver.count > 1:
        return [Step(f"Solder the {driver.count} current diodes side by side, all rings at one end."), into]
    return [into]


_DRIVE_A_TRANSISTOR = ("schmitt gate", "comparator")  # the timer "mosfet" is one itself
_TRANSISTOR_NOTE = "in the coil's lead to minus, for the coil's current"


def trigger_parts(wish: TriggerSpec, plan: PlanFields) -> tuple[PartLine, ...]:
    """What to buy beside the signal's own parts; the relay is listed with those already."""
    capacitor = wish.circuit().capacitor
    lines = [
        PartLine(1, "magnet", wish.make_magnet().name, note=f"under the train, {wish.orientation}"),
        PartLine(1, "reed switch", wish.reed, note="in the track, along it"),
        PartLine(1, "timer", wish.timer),
        PartLine(1, "capacitor of the timer", capacitor.name, note="mind its polarity" if _polar(wish) else ""),
        PartLine(1, "pot of the timer", f"{say(wish.pot.m_as('ohm'), 'ohm')}, linear"),
        _resistor("resistor, end of the pot", wish.end_resistor.m_as("ohm")),
        _resistor("resistor, beside the reed", wish.reed_resistor.m_as("ohm")),
    ]
    if plan.relay is not None and wish.timer in _DRIVE_A_TRANSISTOR:
        lines.append(PartLine(1, "transistor for the coil", "small N-channel MOSFET", note=_TRANSISTOR_NOTE))
    return tuple(lines)


def _polar(wish: TriggerSpec) -> bool:
    return wish.circuit().capacitor.kind.polarised


def trigger_positions(wish: TriggerSpec, figures: dict[str, Figure]) -> tuple[tuple[str, str], ...]:
    """Where each thing goes, in words."""
    beyond = f"{_length(wish.beyond)} beyond the signal, as the train runs, along the middle of the track"
    least = figures.get("reed_beyond_least")
    if least is not None:
        beyond += f"; {say(least.nominal, 'm')} at the least"
    placed = [
        ("reed", beyond),
        ("magnet", f"{_length(wish.magnet_from_front)} behind the train's front, {wish.orientation}"),
        ("gap", f"{_length(wish.gap)} from the magnet's face down to the reed's axis"),
        ("clear of the signal", f"the last wheel {_length(wish.clearing_distance)} beyond the reed"),
    ]
    if "pot_turn" in figures:
        placed.append(("pot", f"turned up to {figures['pot_turn'].text} to begin with, then by the watch"))
    return tuple(placed)


def _length(length: object) -> str:
    return say(length.m_as("m"), "m")


def trigger_steps(wish: TriggerSpec, hold: float) -> tuple[Step, ...]:
    """What to do once the signal works by hand, in order."""
    polarity = "Mind its polarity: the wrong way round it heats up and may burst." if _polar(wish) else ""
    return (
        Step(f"Lay the reed {_length(wish.beyond)} beyond the signal, along the track, and fix it without strain.",
             caution_text("train", "reed")),
        Step(f"Fix the magnet {wish.orientation} under the train, and check the gap of {_length(wish.gap)} by a card.",
             caution_text("train", "magnets")),
        Step("Push the train over the reed by hand with the meter on it: it must beep as often as the findings say."),
        Step("Build the timer board with its capacitor, pot and end resistor.", polarity),
        Step("Join reed, its resistor, board and supply.", caution_text("train", "track power")),
        Step(f"Let a train pass and set the pot by a watch, until red lasts {say(hold, 's')}."),
        Step("Try the slowest, the fastest and the longest train."),
    )  # fmt: skip
