"""Pictures of the meter at every point, of tables of readings and of rankings: usual ones and extremes."""

import dataclasses

from sigcalc.design.bench.circuit import BenchCircuit
from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.lessons.find_the_fault import quillhaven_signal
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.relay import relays
from sigcalc.parts.source import batteries
from sigcalc.views.find_the_fault import ReadingRow, meter_picture, ranking, readings_table
from tests.views.svg import HOSTILE

SIGNAL = quillhaven_signal()
PAIR = SIGNAL.pair
BRANCHES = BenchCircuit(
    batteries["6 x AA alkaline"],
    ResistorDrive("0 ohm"),
    TwoLeadPair(PAIR.red, PAIR.green, extra_red="680 ohm", extra_green="470 ohm"),
    reversing="relay",
    relay=relays["9 V two-pole sensitive"],
)
DRIVEN = BenchCircuit(batteries["9 V alkaline"], ConstantCurrentDrive("10 mA", "1.5 V", 0.1), PAIR)


def meter_pictures(size):
    """All of them by name."""
    looks = ("none", "red", "green", "dim red", "dim green", "both", "")
    for number, (name, point) in enumerate(measuring_points(SIGNAL).items()):
        reading = ("12.07 V", "", "OL", HOSTILE[:12])[number % 4]
        yield (
            f"meter {name}",
            meter_picture(SIGNAL, point, reading, ("red", "green")[number % 2], looks[number % 7], size),
        )
    for circuit, name in ((BRANCHES, "coil, green"), (BRANCHES, "red resistor"), (DRIVEN, "driver, red")):
        points = measuring_points(circuit)
        point = points.get(name) or points[f"{name}, red"]
        yield f"meter {name} other", meter_picture(circuit, point, "-1.234 V", "green", "both", size)
    rows = [
        ReadingRow(name, ("40.00 MΩ", "-12.07 V")[number % 2], "-2.956 V to -1.903 V", (True, False, None)[number % 3])
        for number, name in enumerate(measuring_points(SIGNAL))
    ]
    yield "readings all", readings_table(rows, size=size, seen={"red": "dim green", "green": "both"})
    yield "readings last", readings_table(rows, 5, size)
    yield "readings none", readings_table([], size=size)
    for name, seen, readings in (
        ("nothing", {}, {}),
        ("looks", {"red": "none", "green": "none"}, {}),
        ("clear", {"red": "none", "green": "green"}, {"pair, red": "12 V", "shared resistor ohms": "680 ohm"}),
    ):
        result = diagnose(SIGNAL, seen, readings, draws=100)
        yield f"ranking {name}", ranking(result, size=size)
        yield f"ranking {name} unfit", ranking(dataclasses.replace(result, fits=False), 2, size)
