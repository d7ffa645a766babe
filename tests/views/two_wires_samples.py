"""Pictures of the lesson on two wires: every wiring in every position, bars of light, and alternation."""

from sigcalc.design.pair.alternation import on_ac, turned_round
from sigcalc.design.pair.brightness import compare_brightness
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import reversing, wirings
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.views.two_wires_two_colours import brightness_bars, reversing_circuit, signals_on_wires, timeline

RED, GREEN = leds["red gaasp 3 mm"], leds["green gap 3 mm"]
DULL, GLARING = (
    Led("made up", "red", ConstantDrop("2 V"), "30 mA", intensity=light, intensity_current="10 mA")
    for light in ("0.001 mcd", "30 cd")
)
PAIR = TwoLeadPair(RED, GREEN)
RESISTOR = ResistorDrive("1 kohm")
ALTERNATIONS = {
    "AC": on_ac("12 V", RESISTOR, PAIR, "60 Hz"),
    "dark": on_ac("0.5 V", RESISTOR, PAIR, "60 Hz"),
    "only red": on_ac("1.2 V", ResistorDrive("100 ohm"), PAIR, "60 Hz"),
    "quick": turned_round("12 V", RESISTOR, PAIR, "200 Hz", 0.2),
    "slow": turned_round("12 V", RESISTOR, PAIR, "2 Hz"),
    "large currents, slow": on_ac("30 V", ResistorDrive("10 ohm"), PAIR, "0.013 Hz"),
}


def lesson_pictures(size):
    """Every picture of the lesson but the circuit of the pair."""
    for name, wiring in wirings.items():
        states = list(reversing(name).states.items())
        for positions, shown in states[:: max(1, len(states) // 4)]:  # of four single switches every fourth
            if len(wiring.signals) == 2:
                yield f"two signals {name} {shown.position}", signals_on_wires(wiring, shown, size)
                continue
            for first in (False, True):
                closed = wiring.closed(positions)
                title = f"reversing {name} {shown.position}{' resistor first' if first else ''}"
                yield title, reversing_circuit(wiring, closed, shown, first, size)
    for name, evenness, full in (
        ("usual", compare_brightness(RED, GREEN, "10 mA", "10 mA"), None),
        ("extreme", compare_brightness(DULL, GLARING, "10 mA", "10 mA"), None),
        ("on a scale", compare_brightness(RED, GREEN, "20 mA", "10 mA"), 0.012),
    ):
        yield f"bars {name}", brightness_bars(evenness, full, size)
    for name, result in ALTERNATIONS.items():
        yield f"timeline {name}", timeline(result, size)
