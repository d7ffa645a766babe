"""The door: quantities outside, SI floats inside."""

import numpy as np
import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.units import Current, Power, Q, Ratio, Resistance, Temperature, Voltage, with_units

seen = {}


@with_units
def power(voltage: Voltage, current: Current, share: Ratio = 1.0, *, note: str = "") -> Power:
    """Power in a part."""
    seen.update(voltage=voltage, current=current, share=share, note=note)
    return voltage * current * share


@with_units(scalar=True)
def drop(resistance: Resistance, current: Current = "10 mA", ambient: Temperature | None = None) -> Voltage:
    seen.update(ambient=ambient)
    return resistance * current


def test_si_floats_inside_quantities_outside():
    answer = power("9 V", Q(20, "mA"), note="as given")
    assert answer == Q("180 mW")
    assert seen == seen | {"voltage": 9.0, "current": 0.02, "share": 1.0, "note": "as given"}
    assert type(seen["voltage"]) is float


def test_arrays_broadcast():
    answer = power(Q([[1.0], [2.0]], "V"), ["10 mA", "20 mA", "30 mA"])
    assert answer.to("mW").magnitude == pytest.approx(np.array([[10, 20, 30], [20, 40, 60]]))


def test_defaults_written_as_text_are_read():
    assert drop("470 ohm") == Q("4.7 V")
    assert drop("470 ohm", "1 mA") == drop("470 ohm", current="1 mA")
    assert drop("470 ohm", "1 mA").magnitude == pytest.approx(0.47)


def test_none_stands_only_where_it_may():
    drop("1 ohm", ambient=None)
    assert seen["ambient"] is None
    drop("1 ohm", "1 mA", "27 degC")
    assert seen["ambient"] == pytest.approx(300.15)
    for call in (lambda: drop(None), lambda: drop("1 ohm", None), lambda: drop("1 ohm", current=None)):
        with pytest.raises(UnitError, match=r"needs a .* with its unit, for example .*; you gave None"):
            call()


def test_the_argument_is_named():
    with pytest.raises(UnitError, match=r"current needs a current with its unit, for example .*; you gave 0.02"):
        power("9 V", 0.02)
    with pytest.raises(RangeError, match=r"current needs a current from 0 A to 10 A, .*; you gave 20 A"):
        power("9 V", current="20 A")


def test_scalar_doors_take_one_value():
    with pytest.raises(UnitError, match="resistance needs one resistance"):
        drop(["1 ohm", "2 ohm"])


def test_the_function_keeps_its_face():
    assert power.__name__ == "power"
    assert power.__doc__ == "Power in a part."


def test_wrong_calls_are_pythons_own_errors():
    with pytest.raises(TypeError):
        power("9 V")
    with pytest.raises(TypeError):
        power("9 V", "1 mA", volume="3")
    with pytest.raises(TypeError):
        drop("1 ohm", "1 mA", None, "4")


def test_methods_have_doors_too():
    class Lamp:
        @with_units
        def voltage(self, current: Current) -> Voltage:
            return 100 * current

    assert Lamp().voltage("10 mA") == Q("1 V")
    assert Lamp().voltage(current="10 mA") == Q("1 V")


@with_units
def sign(voltage: Voltage, reversed_: bool = False) -> Voltage:
    return -voltage if reversed_ else voltage


def test_a_yes_or_no_is_one():
    assert sign("9 V") == sign("9 V", False) == -sign("9 V", reversed_=np.bool_(True))
    for wrong in ("no", 1, None, np.array([True])):
        for call in (lambda wrong=wrong: sign("9 V", wrong), lambda wrong=wrong: sign("9 V", reversed_=wrong)):
            with pytest.raises(UnitError, match="reversed_ needs True or False"):
                call()
