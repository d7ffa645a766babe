"""Charts of rows with all that they can hold."""

import numpy as np

from sigcalc.views.chart import Rows
from sigcalc.views.style import PAPER, lamp_fill, lamp_hatch
from tests.views.svg import HOSTILE


def chart_pictures(size):
    """Bars for a comparison, and strips in time below a curve."""
    bars = Rows(0, 20, title="one driver of 20 mA, both lit at once")
    for lamp, amps in (("red", 7.0), ("green", 20.0)):
        bars.row(f"{lamp} wants")
        bars.bar(amps, f"{amps:g} mA", fill=PAPER)
        bars.row(f"{lamp} gets", HOSTILE)
        bars.bar(amps / 2, f"{amps / 2:g} mA", lamp_fill(lamp), lamp_hatch(lamp), bold=True)
        bars.row("", tall=10, gap=20)
        bars.whisker(5, 40, "bought: 5 to 40 mA")
    bars.mark(10, "asked for: 10 mA")
    yield "rows bars", bars.picture("Both get half of what they want.", size)
    strips = Rows(-1, 30, left=84, right=68, width=530)
    for time, words in ((3, "front at the signal"), (29, HOSTILE), (10, "now: 10 s"), (31, "beyond")):
        strips.mark(time, words)
    strips.row("field", tall=62)
    times = np.linspace(-1, 30, 300)
    strips.curve(times, np.exp(-((times - 8) ** 2)), 1.8, "#d9d9d9", hatch="//")
    for level in range(3):
        strips.level(level / 2, f"{10.0**level:g} mT", colour="#b0b0b0")
    strips.level(0.25, behind="pull-in", dash="--")
    strips.row("lamp")
    strips.strip([(-1, 7), (22, 30)], "GREEN", lamp_fill("green"), lamp_hatch("green"), inset=3, bold=True)
    strips.strip([(7, 22)], "RED", lamp_fill("red"), rim=2.4, bold=True)
    strips.words("1×", bold=True)
    strips.axis("time in s")
    yield "rows strips", strips.picture("Red from 7 s to 22 s.", size)
