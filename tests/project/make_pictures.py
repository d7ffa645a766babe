"""The pictures that README and notebooks show before anything has run: made by the library, and kept as files.

`python -m tests.project.make_pictures` writes them anew; tests/project/test_pictures.py compares them.
"""

from pathlib import Path

from sigcalc import ResistorDrive, TwoLeadPair, batteries, leds
from sigcalc.views.scene.signal_scene import signal_scene

FOLDER = Path(__file__).parents[2] / "notebooks" / "pictures"


def pictures():
    """The text of each file by its name."""
    pair = TwoLeadPair(leds["bright red 3 mm"], leds["ordinary green 3 mm"])
    battery = batteries["9 V alkaline"]
    point = pair.operate(battery.fresh_voltage, ResistorDrive("1 kohm"), -1)
    return {"lit_signal.svg": signal_scene(point, battery.name).svg + "\n"}


if __name__ == "__main__":
    for name, svg in pictures().items():
        (FOLDER / name).write_text(svg, encoding="utf-8")
