"""Whether the published tests can fail: run by hand, python tests/benchmarks/mutate_data.py [words of the names].

Each figure that matters is moved by three times its tolerance in a scratch copy of the library, and the tests named
beside it run there. They are tests against a source or another program, and not those that read the same row again. At
least one has to fail; what survives is printed as such, and the script ends with 1.
"""

from __future__ import annotations

import csv
import io
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
DATA = "sigcalc/parts/data"


class Mutation(NamedTuple):
    """A file, what changes its text, and the tests that have to notice."""

    name: str
    path: str
    change: Callable[[str], str]
    tests: tuple[str, ...]


def rows(name: str, table: str, chosen: dict[str, str], moved: Callable[[float], float], *tests: str) -> Mutation:
    """The value of each row of a table whose part and quantity match the patterns."""

    def change(text: str) -> str:
        table = list(csv.reader(io.StringIO(text)))
        for row in table[1:]:
            if all(re.fullmatch(chosen[head], row[place]) for place, head in enumerate(("part", "quantity"))):
                row[2] = f"{moved(float(row[2])):.9g}"
        written = io.StringIO()
        csv.writer(written, lineterminator="\n").writerows(table)
        return written.getvalue()

    return Mutation(name, f"{DATA}/{table}.csv", change, tests)


def both(name: str, table: str, part: str, quantity: str, step: float, *tests: str, share: bool = False):
    """Up and down by a step, or by a share of the figure."""

    def one(step: float) -> Mutation:
        moved = (lambda value: value * (1 + step)) if share else (lambda value: value + step)
        return rows(f"{name} {step:+g}{' of it' * share}", table, {"part": part, "quantity": quantity}, moved, *tests)

    return one(step), one(-step)


def times(name: str, table: str, part: str, quantity: str, factor: float, *tests: str):
    """Multiplied and divided by a factor; a quantity's least and most, which have to stay in order, with it."""
    chosen = {"part": part, "quantity": f"{quantity}.*"}
    return (
        rows(f"{name} x {factor:g}", table, chosen, lambda value: value * factor, *tests),
        rows(f"{name} / {factor:g}", table, chosen, lambda value: value / factor, *tests),
    )


def code(name: str, path: str, old: str, new: str, *tests: str) -> Mutation:
    """A constant in the code."""
    return Mutation(name, f"sigcalc/{path}", lambda text: text.replace(old, new, 1), tests)


LED = "tests/parts/test_led.py::"
FORETOLD = LED + "test_one_known_point_of_a_red_led_foretells_the_others"
IDEALITY = LED + "test_measured_points_of_the_student_laboratory"
BETWEEN = LED + "test_the_typical_red_lies_between_two_measured_ones"
FALL = LED + "test_the_drop_falls_as_measured_leds_do"
SILICON = LED + "test_the_1n4148_drops_what_its_sheets_say"
RC, COPPER = "tests/physics/test_rc.py::TestPublished", "tests/physics/test_copper.py"
DIODE = "tests/physics/test_diode.py"
RUN = "tests/design/power/test_run_time_published.py"
BATTERY = "tests/parts/test_source.py::test_fresh_batteries_of_others"
CURVE = "tests/parts/test_source.py::test_another_measured_curve_lies_within_the_spread"
COILS = "tests/parts/test_relay.py::TestPublished"
SCHMITT = "tests/parts/test_timer.py::test_the_schmitt_gates_of_three_makes_lie_within_the_band"
NO_WIDER = "tests/parts/test_timer.py::test_the_schmitt_gates_band_is_no_wider_than_the_makes"
BRIDGE = "tests/parts/test_reed.py"
AMONG = f"{BRIDGE}::test_the_reeds_of_our_table_stand_in_the_middle_of_the_makers"
BANDS, SERIES = "tests/parts/test_marking.py", "tests/parts/test_resistor.py"
GRADES = "tests/parts/test_magnet.py::test_makers_differ_by_no_more_than_the_note_says"

WALL = "tests/parts/test_wire.py::test_26_gauge_solid_hook_up_wire"
DERATING = "tests/parts/test_resistor.py::test_published_derating"
SPEEDS, GAUGES = (f"tests/parts/test_scale.py::test_{each}" for each in ("published_speeds", "ratios_fit_the_gauges"))
WIRES = "tests/parts/test_fuse.py::test_what_a_wire_bears"

# three times what makes differ by
CHARGES = {f"AA alkaline at {drain} mA": 0.3 for drain in (25, 100, 500)} | {
    "9 V alkaline at (15|25) mA": 0.6,
    "9 V alkaline at 50 mA": 0.3,
    "AA NiMH at .* mA": 0.3,
}
MUTATIONS = [
    *both("red LED, series resistance, ohm", "led_priors", "red", "series_resistance", 9, FORETOLD),
    *both("red LED, ideality", "led_priors", "red", "ideality", 0.75, IDEALITY),
    *both("red LED, fall of the drop, mV/K", "led_priors", "red", "temperature_coefficient", 0.3, FALL),
    *both("InGaN LED, fall of the drop, mV/K", "led_priors", "ingan", "temperature_coefficient", 0.3, FALL),
    *both("red LED, drop at 20 mA, V", "leds", "bright red 3 mm", "forward_voltage", 0.15, BETWEEN),
    *times("1N4148, saturation current", "diodes", "1n4148", "saturation_current", 8, SILICON),
    *times("9 V alkaline, resistance", "batteries", "9 V alkaline", "internal_resistance", 2.2, BATTERY),
    *times("AA alkaline, resistance", "batteries", "6 x AA alkaline", "internal_resistance", 1.75, BATTERY),
    *both("AA alkaline, fresh voltage, V", "batteries", "6 x AA alkaline", "fresh_voltage.*", 0.09, BATTERY),
    *both("alkaline, rest voltage of a cell, V", "discharge_curves", "alkaline", "rest_voltage at .*", 0.12, CURVE),
    *(
        each
        for part, share in CHARGES.items()
        for each in both(f"charge, {part}", "discharge_capacity", f"{part}, .*", "capacity", share, RUN, share=True)
    ),
    *times("reeds, test coil", "reeds", ".*", "coil_length", 2, AMONG),
    code("reeds, 8 times the coil's field", "parts/reed.py", "usual=4.67", "usual=8.0", BRIDGE),
    code("reeds, at most 9 times the coil's field", "parts/reed.py", "most=13.1", "most=9.0", BRIDGE),
    code("reeds, mean field over 5 mm", "parts/reed.py", "length=10e-3", "length=5e-3", BRIDGE),
    *both("Schmitt gate, threshold", "timers", "schmitt gate", "trip_share", 0.25, SCHMITT, share=True),
    *both("Schmitt gate, least", "timers", "schmitt gate", "trip_share_min", 0.015, SCHMITT, NO_WIDER, share=True),
    *both("Schmitt gate, most", "timers", "schmitt gate", "trip_share_max", 0.015, SCHMITT, NO_WIDER, share=True),
    *both("two-pole coils, resistance", "relays", ".* two-pole", "coil_resistance", 0.01, COILS, share=True),
    *both("sensitive coils, resistance", "relays", ".* two-pole sensitive", "coil_resistance", 0.02, COILS, share=True),
    *both("one-pole coils, resistance", "relays", ".* one-pole", "coil_resistance", 0.03, COILS, share=True),
    *both("remanence of N35, T", "magnet_grades", "N35", "remanence_.*", 0.09, GRADES),
    *both("hook-up wire, wall, mil", "wires", "26 AWG solid hook-up", "wall", 0.5, WALL),
    *both("resistors, no power left at, degC", "resistor_ratings", ".*", "zero_at", 15, DERATING),
    *both("HO, mm to the foot", "scales", "HO", "model of a foot", 0.02, SPEEDS),
    *both("N, ratio", "scales", "N", "ratio", 5, GAUGES),
    *both("colour bands, digit of red", "colour_bands", "red", "digit", 1, BANDS),
    *both("colour bands, power of orange", "colour_bands", "orange", "power", 1, BANDS),
    *both("colour bands, tolerance of gold", "colour_bands", "gold", "tolerance", 0.5, BANDS, share=True),
    code("E24: 3.4 for 3.3", "parts/resistor.py", "33,", "34,", SERIES),
    code("E192: no exception", "parts/resistor.py", "{919: 920}", "{}", SERIES),
    code("copper, resistivity + 0.3 %", "physics/copper.py", "1.7241e-8", "1.7293e-8", COPPER),
    code("copper, resistivity - 0.3 %", "physics/copper.py", "1.7241e-8", "1.7189e-8", COPPER),
    code("copper, 0.0040 a kelvin", "physics/copper.py", "= 0.00393", "= 0.0040", COPPER),
    code("gauges, 0.1272 mm for 36 AWG", "physics/copper.py", "0.127e-3", "0.1272e-3", COPPER),
    code("gauges, 91.5 times in 39 steps", "physics/copper.py", " 92, 39", " 91.5, 39", COPPER),
    code("one-shot, trips at 0.66", "physics/rc.py", "2 / 3", "0.66", RC),
    code("one-shot, trips at 0.673", "physics/rc.py", "2 / 3", "0.673", RC),
    code("kT/q + 0.02 %", "physics/diode.py", "boltzmann / e", "1.0002 * boltzmann / e", DIODE),
    code("wires: 800 cmil an ampere", "parts/fuse.py", "(700 *", "(800 *", WIRES),
]


def noticed(folder: Path, mutation: Mutation) -> str:
    """The first test that fails, or "" where all pass."""
    path = folder / mutation.path
    before = path.read_text(encoding="utf-8")
    after = mutation.change(before)
    if after == before:
        sys.exit(f"{mutation.name}: nothing in {mutation.path} was changed")
    path.write_text(after, encoding="utf-8")
    options = ("-x", "-q", "-n", "0", "--no-cov", "-p", "no:cacheprovider", "-rf")
    command = [sys.executable, "-m", "pytest", *options, *mutation.tests]
    settings = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    run = subprocess.run(command, cwd=folder, env=settings, capture_output=True, text=True, check=False)
    path.write_text(before, encoding="utf-8")
    found = re.search(r"^FAILED (.+?)(?: - |$)", run.stdout, re.MULTILINE)
    if not found and run.returncode:
        sys.exit(f"{mutation.name}: no test ran\n{run.stdout[-2000:]}{run.stderr[-2000:]}")
    return found[1] if found else ""


def main() -> None:
    """Mutate one figure after the other and print a line for each."""
    chosen = [each for each in MUTATIONS if all(word in each.name for word in sys.argv[1:])]
    survived = 0
    with tempfile.TemporaryDirectory() as made:
        for name in ("sigcalc", "tests"):
            shutil.copytree(ROOT / name, Path(made, name), ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy(ROOT / "pyproject.toml", made)
        for each in chosen:
            test = noticed(Path(made), each)
            survived += not test
            sys.stdout.write(f"{each.name:46} {test or 'SURVIVES'}\n")
            sys.stdout.flush()
    sys.stdout.write(f"{len(chosen) - survived} of {len(chosen)} are noticed\n")
    sys.exit(survived > 0)


if __name__ == "__main__":
    main()
