"""Any input gives a well-formed picture with its sentence, or a SigcalcError."""

import re

from hypothesis import example, given
from hypothesis import strategies as st

from sigcalc import Plan
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import Led
from sigcalc.units import Q
from sigcalc.views.curves import Curves
from sigcalc.views.led_circuit import one_led_circuit
from sigcalc.views.plan_your_signal import mast_front
from sigcalc.views.signal_circuit import signal_circuit
from sigcalc.views.which_resistor import colour_band_picture
from sigcalc.views.why_a_resistor import LoadLine
from tests.views.samples import GREEN, RED
from tests.views.svg import parse, texts, view_box

NAMES = st.text(max_size=60)
VOLTS = st.floats(0, 60).map(lambda volts: Q(volts, "V"))
RESISTORS = st.builds(lambda ohms, part: ResistorDrive(Q(ohms, "ohm"), part), st.floats(0, 1e9), st.floats(0, 0.2))
AMPS, DROPOUTS = st.floats(1e-6, 10), st.floats(0.01, 5)
DRIVERS = st.builds(lambda amps, volts: ConstantCurrentDrive(Q(amps, "A"), Q(volts, "V")), AMPS, DROPOUTS)
DRIVES = RESISTORS | DRIVERS
LENGTHS = st.floats(0, 1e3).map(lambda metres: Q(metres, "m"))


LOAD_LINE, CURVES = LoadLine(), Curves()


def whole(picture):
    """Well-formed, named, with figures and all text on the sheet."""
    root = parse(picture)
    assert root.get("aria-label") == picture.sentence
    assert picture.sentence.endswith((".", "…"))
    assert not re.search(r"\b(nan|inf)\b", picture.svg)
    left, _, width, _ = view_box(root)
    assert [text for text in texts(picture) if text.left <= left - 1 or text.right >= left + width + 1] == []


@given(VOLTS, DRIVES, st.sampled_from([1, -1]), st.booleans(), st.booleans(), st.floats(0, 1e6))
def test_signal_circuit(supply, drive, polarity, adapter, switch, extra):
    try:
        point = TwoLeadPair(RED, GREEN, extra_red=Q(extra, "ohm")).operate(supply, drive, polarity)
    except SigcalcError:  # beyond what is computed; not a matter of the picture
        return
    whole(signal_circuit(point, "9 V alkaline", adapter, switch))


@given(NAMES, NAMES)
def test_any_name_is_only_text(supply, name):
    led = Led(name, "red", RED.model, RED.max_current)
    for picture in (
        signal_circuit(TwoLeadPair(led, GREEN).operate("9 V", ResistorDrive("680 ohm"), +1), supply),
        one_led_circuit(operate("9 V", ResistorDrive("680 ohm"), led), supply),
        colour_band_picture(("red", "red", "red", "gold"), name),
        CURVES.picture([led, GREEN]),
    ):
        parse(picture)
        assert "<script" not in picture.html()


@given(st.floats(-20, 60), DRIVES, st.booleans())
def test_one_led_circuit(volts, drive, bare):
    whole(one_led_circuit(operate(Q(volts, "V"), drive, RED), "supply", bare=bare))


@given(VOLTS, DRIVES, st.booleans(), st.sampled_from([RED, GREEN, [RED, GREEN]]))
def test_load_line(supply, drive, spread, led):
    whole(LOAD_LINE.picture(operate(supply, drive, led), spread))


@given(LENGTHS, LENGTHS, LENGTHS, st.sampled_from(["red", "green"]))
@example(Q("1 m"), Q("2 m"), Q("1000 m"), "red")  # its words once left the sheet
def test_mast(one, two, three, top):
    lower, upper, height = sorted((one, two, three))
    lamps = {"top": top, "bottom": "green" if top == "red" else "red"}
    try:
        plan = Plan(mast={"height": height, "top_lamp": upper, "bottom_lamp": lower}, lamps=lamps)
    except SigcalcError:
        return
    whole(mast_front(plan, "both"))
