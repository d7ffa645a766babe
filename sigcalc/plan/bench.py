"""What a plan means at the bench: parts to buy, wires to cut, holes to drill, steps; of the train's trigger as well."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from ..design.board.wire_and_holes import COLOURS, CutList, cut_list, lamp_in_hole, wires_in_hole
from ..design.caution import caution_text, cautions
from ..design.findings import FINE, LOOK, Finding
from ..errors import SigcalcError
from ..parts.drill import METRIC, drills
from ..parts.marking import colour_bands, rkm_code
from ..parts.resistor import rating_for
from ..parts.scale import scale_ratio
from ..units import Q, say
from .circuit import LAMPS, Circuit, Driver
from .model import PlanFields
from .result import Cut, Figure, PartLine, Step
from .signal_fields import TriggerSpec, WireSpec, heights_to_scale

PILOTS = {True: "1.5 mm", False: "1/16 in"}  # by whether the lamps' drill is metric; common practice, no source
USUAL_MASTS = (3.0, 10.0)  # m; from memory, and it differs from railway to railway
_IMPERIAL = ("in", "ft", "thou")


def measured(metres: float, like: Any) -> str:
    """A length as the builder's own rule has it, the one for the length `like`: in mm, or in sixteenths of an inch."""
    if str(like.units) in _IMPERIAL:
        whole, rest = divmod(round(metres / 0.0254 * 16), 16)
        return f"{' '.join(str(each) for each in (whole, Fraction(rest, 16)) if each) or '0'} in"
    return f"{round(metres, 2):g} m" if metres >= 1 else f"{metres * 1e3:.0f} mm"


def rule_for_wire(plan: PlanFields) -> Any:
    """A length in the unit in which the builder cuts wire: as the wires are given, or else as the mast is."""
    usual = WireSpec()
    own = (plan.wire.distance, plan.wire.slack) != (usual.distance, usual.slack)
    return plan.wire.distance if own else plan.mast.height


def fit_findings(plan: PlanFields) -> list[Finding]:
    """The mast to scale, lamps in their holes, and the wires down the mast."""
    lamp = lamp_in_hole(plan.mast.lamp_outline, plan.mast.lamp_hole)
    wires = wires_in_hole(2, plan.wire.part, plan.mast.wire_hole)
    return [_mast_to_scale(plan), *lamp.findings, *wires.findings, *_cut_list(plan).findings]


def _mast_to_scale(plan: PlanFields) -> Finding:
    """What mast of the prototype this one stands for, and whether there are such."""
    height, (least, most) = plan.mast.height, USUAL_MASTS
    stands_for = height.m_as("m") * scale_ratio(plan.scale)
    reason = (
        f"At {plan.scale} a mast of {measured(height.m_as('m'), height)} stands for one of {say(stands_for, 'm')}. "
        f"Real ones are some {least:g} m to {most:g} m high (from memory; it depends on the railway)."
    )
    if least <= stands_for <= most:
        return Finding(FINE, "mast to scale", reason)
    mast, *lamps = (measured(each, height) for each in heights_to_scale(plan.scale).values())
    return Finding(LOOK, "mast to scale", reason, f"To scale: mast {mast}, lamps at {lamps[0]} and {lamps[1]}.")


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
        *((f"{place} lamp, {measured(height.m_as('m'), height)} up", plan.mast.lamp_hole) for place, height in lamps),
        ("wires down the mast", plan.mast.wire_hole),
        ("pilot for each", _pilot(plan)),
    )


def _pilot(plan: PlanFields) -> str:
    return PILOTS[drills[plan.mast.lamp_hole].kind == METRIC]


def _in_branch(circuit: Circuit, lamp: str) -> str:
    two = circuit.combinations.get(lamp)
    return f"resistor of {say(circuit.extra(lamp), 'ohm')}" if two is None else f"two resistors, {two.parts},"


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
    lines = [PartLine(1, f"{led.colour} LED", led.name) for led in (pair.red, pair.green)]
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
    if combination is None:
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
    """What to do, in order; every caution of the work is at the first step that needs it."""
    return (*_before_soldering(circuit), *_soldering(circuit), *_wiring(circuit), *_first_light(circuit.plan))


def _before_soldering(circuit: Circuit) -> list[Step]:
    plan = circuit.plan
    setting = circuit.driver is not None and circuit.driver.setting
    resistors = circuit.shared_resistance or setting or _branch_resistors(circuit)
    limit = "the driver" if circuit.driver else "its resistor"
    strip = measured(cuts(plan)[0].strip, rule_for_wire(plan))
    measure = [Step("Measure each resistor and compare it with the meter readings.")]
    return [
        *(measure if resistors else []),
        Step(
            f"Try each LED alone through {limit} on the supply. Mark its longer lead: that is the anode.",
            caution_text("work", "LED"),
        ),
        Step(
            f"Drill the pilot holes ({_pilot(plan)}), then {plan.mast.lamp_hole} for the lamps and "
            f"{plan.mast.wire_hole} for the wires.",
            caution_text("work", "eyes"),
        ),
        Step(
            "Cut the pieces of wire in the list.",
            caution_text("enamelled wire", "enamel") if "enamelled" in plan.wire.part else "",
        ),
        Step(f"Strip {strip} off both ends of each piece and tin them.", caution_text("work", "soldering")),
        Step(
            f"Put the {plan.lamps.top} LED into the upper hole and the {plan.lamps.bottom} one into the lower, the "
            "anode of one on the same side as the cathode of the other (see the joint).",
            caution_text("work", "glue"),
        ),
        Step(f"Trim the LEDs' leads to {strip}."),
    ]


def _soldering(circuit: Circuit) -> list[Step]:
    """The joints on the mast: sleeving is on the wire before the iron is at the joint."""
    done = []
    if circuit.pair.series_diode is not None:
        done.append(
            "Solder a diode to each LED's anode, its ring towards the LED; its far end now counts as the anode."
        )
    done += [
        f"Solder the {lamp} branch's {_in_branch(circuit, lamp)} to the {lamp} LED's cathode; "
        "its far end now counts as the cathode."
        for lamp in _branch_resistors(circuit)
    ]
    (orange, blue), apart = COLOURS, len(cuts(circuit.plan)) > len(COLOURS)
    ends = ("red anode to green cathode", "red cathode to green anode")
    done.append("Slide sleeving onto every wire first, and push it well away from the end.")
    if apart:
        done.append(f"Solder the short wires between the lamps: {orange} from {ends[0]}, {blue} from {ends[1]}.")
    else:
        done.append(f"Solder the LEDs back to back: {ends[0]}, {ends[1]}.")
    done.append(f"Solder the long wires: wire A ({orange}) to the red anode, wire B ({blue}) to the red cathode.")
    sleeving = Step(
        "Push the sleeving over the joints and shrink it. Draw the wires down the mast.",
        caution_text("work", "sleeving"),
    )
    return [*map(Step, done), sleeving]


def _wiring(circuit: Circuit) -> list[Step]:
    limit = []
    if circuit.driver:
        limit = _driver_steps(circuit.driver)
    elif circuit.shared_resistance:
        # the readings count it there, and with it ahead of the switch no slip of a lever can short the supply
        turned_by = circuit.plan.wiring.reversing
        by = "relay's contacts but not of its coil" if turned_by == "relay" else turned_by
        two = circuit.combinations.get("shared")
        what = "shared resistor" if two is None else f"two shared resistors, {two.parts},"
        limit = [Step(f"Put the {what} into the supply's plus lead, ahead of the {by}; sleeving first.")]
    coil = []
    if circuit.plan.wiring.reversing == "relay":
        coil = [Step("Solder the flyback diode across the relay's coil, its ring towards plus.")]
    seen = "drawing of its contacts" if circuit.plan.wiring.reversing == "relay" else "drawing from behind"
    crosswise = f"Wire the {circuit.plan.wiring.reversing} crosswise, as the {seen} shows."
    return [*limit, *coil, Step(crosswise, caution_text("work", "soldering overhead"))]


def _first_light(plan: PlanFields) -> list[Step]:
    source = (each.text for each in cautions(plan.supply.record()) if each.topic != "leaking")  # for the cupboard
    return [
        Step("With the power off, look for shorts: the meter between the two supply leads must not beep."),
        Step("Measure the supply alone, then connect it.", " ".join([caution_text("work", "supply"), *source])),
        Step("Go through the meter readings in order."),
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
