"""What a plan means at the bench: parts to buy, wires to cut, holes to drill, steps, and meter readings."""

from __future__ import annotations

from ..design import cutting, fit
from ..errors import SigcalcError
from ..parts.colour_code import colour_bands
from ..parts.drive import ConstantCurrentDrive
from ..parts.finding import Finding
from ..parts.led import Led
from ..parts.resistor import rating_for
from ..parts.rkm import rkm_code
from ..units import Q, say
from .circuit import LAMPS, Circuit
from .model import PlanFields
from .result import Band, Cut, PartLine, Reading, Step


def fit_findings(plan: PlanFields) -> list[Finding]:
    """Lamps in their holes, and the wires down the mast."""
    lamp = fit.lamp_in_hole(plan.mast.lamp_outline, plan.mast.lamp_hole)
    wires = fit.wires_in_hole(2, plan.wire.part, plan.mast.wire_hole)
    return [*fit.findings(lamp), *fit.findings(wires), *cutting.findings(_cut_list(plan))]


def _cut_list(plan: PlanFields) -> cutting.CutList:
    mast = plan.mast
    return cutting.cut_list(
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
        Cut(what=each.what, length=each.si.length, strip=each.si.strip_first, note=f"{each.colour}, {plan.wire.part}")
        for each in _cut_list(plan).pieces
    )


def holes(plan: PlanFields) -> tuple[tuple[str, str], ...]:
    """The holes and their drills."""
    return (
        ("two lamps", plan.mast.lamp_hole),
        ("wires down the mast", plan.mast.wire_hole),
        ("pilot for both", "1/16 in"),  # common practice, no source
    )


def parts(circuit: Circuit, figures: dict[str, Band]) -> tuple[PartLine, ...]:
    """What to buy or take out of the drawer."""
    plan, pair = circuit.plan, circuit.pair
    lines = [_led_line(pair.red), _led_line(pair.green)]
    if isinstance(circuit.drive, ConstantCurrentDrive):
        lines.append(
            PartLine(1, "constant-current driver", f"{say(circuit.drive.limit, 'A')}, drop-out {plan.drive.dropout:~P}")
        )
    if circuit.shared_resistance:
        heat = max(figures[f"{lamp}_shared_power"].most for lamp in LAMPS)
        lines += _resistor_lines(circuit, "shared", circuit.shared_resistance, heat)
    for lamp in LAMPS:
        if circuit.extra(lamp):
            heat = figures[f"{lamp}_extra_power"].most
            lines += _resistor_lines(circuit, lamp, circuit.extra(lamp), heat)
    if pair.series_diode is not None:
        lines.append(PartLine(2, "plain diode", pair.series_diode.name.upper(), note="one in series with each LED"))
    reversing = {"hand switch": "double-pole double-throw switch", "relay": "relay with two changeover contacts"}
    lines.append(
        PartLine(1, reversing[plan.wiring.reversing], "turns the current round", note="contacts for small currents")
    )
    to_buy = _cut_list(plan).si.to_buy
    lines.append(PartLine(1, "wire", f"{plan.wire.part}, {say(to_buy, 'm')}", note="with waste"))
    lines.append(PartLine(1, "supply", plan.supply.name, note="listed, extra-low-voltage DC"))
    return tuple(lines)


def _led_line(led: Led) -> PartLine:
    return PartLine(1, f"{led.colour} LED", led.name, note=led.note)


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
    """A resistor with its marks and rating; a value that no code can write goes without marks."""
    tolerance = plan.drive.tolerance
    try:
        bands, code = colour_bands(Q(ohms, "ohm"), tolerance), f", marked {rkm_code(Q(ohms, 'ohm'))}"
    except SigcalcError:
        bands, code = (), ""
    try:
        rating = f"{rating_for(Q(heat, 'W'), ambient=plan.limits.ambient).name} or more"
    except SigcalcError as refusal:
        rating = str(refusal)
    detail = f"{say(ohms, 'ohm')}, {say(tolerance, '')}, {rating}"
    return PartLine(1, name, detail, bands, f"{' '.join(bands)}{code}; at most {say(heat, 'W')} of heat")


def steps(circuit: Circuit) -> tuple[Step, ...]:
    """What to do, in order."""
    plan, lamps = circuit.plan, circuit.plan.lamps
    where = "between supply and switch" if circuit.shared_resistance else "in its branch"
    done = [
        Step("Measure each resistor before you use it, and compare with the table of readings."),
        Step(
            "Try each LED alone through the resistor on the supply; mark its anode (the longer lead).",
            "Never without the resistor: an LED may burst. Eye protection.",
        ),
        Step(
            f"Drill the pilot, then {plan.mast.lamp_hole} for the lamps and {plan.mast.wire_hole} for the wires.",
            "Eye protection; hold the mast in a vice.",
        ),
        Step(
            f"Set the {lamps.top} LED above the {lamps.bottom} one, the anode of one beside the cathode of the other."
        ),
        Step(
            "Solder the LEDs head to tail: red anode to green cathode, red cathode to green anode.",
            "Hot iron, harmful fume: fresh air, head out of the plume; wash your hands afterwards.",
        ),
    ]
    if circuit.pair.series_diode is not None:
        done.append(Step("Put one diode in series with each LED, its ring on the side the LED's cathode points to."))
    done += [
        Step(*each) if isinstance(each, tuple) else Step(each)
        for each in (
            *_cut_list(plan).steps,
            "Pull the wires down the mast; slide sleeving over every joint.",
            f"Put each resistor {where}, and wire the {plan.wiring.reversing} crosswise (see the drawing).",
            "With the power off, look for shorts: the meter between the two supply leads must not beep.",
            ("Switch on and go through the readings in order.", "Extra-low-voltage DC from a listed supply only."),
        )
    ]
    return tuple(done)


def readings(figures: dict[str, Band]) -> tuple[Reading, ...]:
    """What the meter should show, in the order in which to measure; a good meter of 10 megohm is assumed."""
    listed = [
        Reading(figures[key].label, "resistance, power off, before soldering", figures[key], "the colour bands")
        for key in ("shared_resistance", "red_resistance", "green_resistance")
        if key in figures
    ]
    listed.append(Reading("supply, nothing connected", "DC volts", figures["supply"], "battery or adapter"))
    for lamp in LAMPS:
        listed.append(
            Reading(
                f"across the two wires, {lamp} lit",
                "DC volts, either sign",
                figures[f"{lamp}_pair_voltage"],
                "0 V: a short or no supply; the full supply: an open joint or a reversed LED",
            )
        )
        if figures[f"{lamp}_drive_voltage"].most > 0:
            listed.append(
                Reading(
                    f"across resistor or driver, {lamp} lit",
                    "DC volts",
                    figures[f"{lamp}_drive_voltage"],
                    "0 V: no current, an open joint; the full supply: the pair is shorted",
                )
            )
    return tuple(listed)
