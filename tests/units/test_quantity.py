"""Q: quantities of the application registry."""

import math
import os
import subprocess
import sys

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import sigcalc
from sigcalc.errors import UnitError
from sigcalc.units import Q, registry

foreign = pint.UnitRegistry()


def test_forms():
    assert Q("9 V") == Q(9, "V") == Q(9000, "mV") == Q(Q("9 V"))
    assert Q is sigcalc.Q
    assert Q([1, 2], "mA").tolist() == [Q("1 mA"), Q("2 mA")]
    assert Q(np.float32(0.5), "V").magnitude == 0.5
    assert type(Q(9, "V").magnitude) is float


def test_temperatures():
    assert Q(27, "degC").to("K").magnitude == pytest.approx(300.15)
    assert Q("27 °C") == Q("27 degC")
    assert Q("80.6 °F").to("degC").magnitude == pytest.approx(27)


def test_it_is_the_application_registry():
    assert pint.get_application_registry().get() is registry
    assert Q(1, "V").check("[mass] * [length] ** 2 / [time] ** 3 / [current]")


def test_a_quantity_of_another_registry_is_taken_over():
    ours = Q(foreign.Quantity(9, "mV"))
    assert (ours + Q("1 mV")).to("mV").magnitude == pytest.approx(10)
    assert Q(foreign.Quantity(27, "degC")).to("K").magnitude == pytest.approx(300.15)


def test_a_unit_that_only_the_other_registry_knows():
    own = pint.UnitRegistry()
    own.define("armlength = 0.7 * meter")
    with pytest.raises(UnitError, match="Q cannot take over 1 armlength"):
        Q(own.Quantity(1, "armlength"))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((9,), 'Q needs a unit beside the number 9; type for example Q\\(9, "V"\\)'),
        ((None,), "needs a unit beside"),
        (("9", "V"), "needs a plain number in front of a separate unit"),
        ((Q("9 V"), "V"), "needs a plain number in front of a separate unit"),
        ((9, 5), "needs its unit as a text"),
        ((9, "ma"), 'type "9 mA"'),
        ((9, "9 V"), "needs a unit without a number, .*; you gave '9 V'"),
        ((9, "0/1 in"), "needs a unit without a number, .*; you gave '0/1 in'"),
        ((12, "VDC"), "'12 VDC' cannot be read: .* type \"12 V\""),
        ((pint.Quantity(math.nan, "V"),), "value needs finite numbers; you gave nan"),
        ((pint.Quantity([1.0, math.inf], "V"),), "value needs finite numbers"),
        ((9, "1/2 in"), "needs a unit without a number, .*; you gave '1/2 in'"),
        ((9, "VDC"), "direct current is understood"),
        ((True, "V"), "value needs numbers such as .*; you gave True"),
        ((None, "V"), "value needs numbers such as .*; you gave None"),
        ((1j, "V"), "value needs numbers"),
        ((b"9", "V"), "value needs numbers"),
        ((math.nan, "V"), "value needs finite numbers; you gave nan"),
        (([1, math.inf], "V"), "value needs finite numbers"),
        (([], "V"), "value needs at least one number"),
        (([[1], [1, 2]], "V"), "value needs numbers"),
        ((10**400, "V"), "value needs numbers"),
        ((["9 V"], "V"), "value needs numbers"),
    ],
)
def test_what_is_refused(arguments, said):
    with pytest.raises(UnitError, match=said):
        Q(*arguments)


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(["V", "mA", "kohm", "µF", "degC"]))
def test_numbers_pass_through_unchanged(number, symbol):
    assert Q(number, symbol).magnitude == number


@pytest.mark.parametrize("value", [[Q("1 mV")], [[1.0], [Q("1 mV")]], [1.0, np.ma.masked]])
def test_a_unit_or_a_hidden_value_in_a_list_is_not_dropped(value):
    """numpy takes a millivolt for a volt there, with no more than a warning."""
    with pytest.raises(UnitError, match="value needs numbers"):
        Q(value, "V")


def test_nothing_is_kept_that_another_environment_would_read(tmp_path):
    homes = dict.fromkeys(("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA", "USERPROFILE"), str(tmp_path))
    code = "from sigcalc import Q; print(Q('9 V'))"
    ran = subprocess.run(
        [sys.executable, "-c", code], env=os.environ | homes, capture_output=True, text=True, check=True
    )
    assert ran.stdout == "9 V\n"
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]
