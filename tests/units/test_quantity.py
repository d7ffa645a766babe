"""Q: quantities of the application registry."""

import math
import os
import subprocess
import sys
from functools import partial

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.units import Q, registry
from tests.refusals import refused

foreign = pint.UnitRegistry()


def foreign_with_armlength():
    own = pint.UnitRegistry()
    own.define("armlength = 0.7 * meter")
    return own


def test_texts_numbers_arrays_and_temperatures_of_the_application_registry():
    assert Q("9 V") == Q(9, "V") == Q(9000, "mV") == Q(Q("9 V"))
    assert Q([1, 2], "mA").tolist() == [Q("1 mA"), Q("2 mA")]
    assert type(Q(9, "V").magnitude) is type(Q(np.float32(0.5), "V").magnitude) is float
    assert Q("80.6 °F").to("degC").magnitude == pytest.approx(27)
    assert pint.get_application_registry().get() is registry


def test_a_quantity_of_another_registry_is_taken_over():
    ours = Q(foreign.Quantity(9, "mV"))
    assert (ours + Q("1 mV")).to("mV").magnitude == pytest.approx(10)
    assert Q(foreign.Quantity(27, "degC")).to("K").magnitude == pytest.approx(300.15)


NO_NUMBERS = [
    *(True, None, 1j, b"9", [[1], [1, 2]], 10**400, ["9 V"]),
    *([Q("1 mV")], [[1.0], [Q("1 mV")]], [1.0, np.ma.masked]),  # numpy takes a millivolt for a volt, and only warns
]
test_what_is_refused = refused(
    (partial(Q, 9), 'Q needs a unit beside the number 9; type for example Q\\(9, "V"\\)'),
    (partial(Q, Q("9 V"), "V"), "needs a plain number in front of a separate unit"),
    (partial(Q, 9, 5), "needs its unit as a text"),
    (partial(Q, 9, "ma"), 'type "9 mA"'),
    (partial(Q, 9, "9 V"), "needs a unit without a number, .*; you gave '9 V'"),
    (partial(Q, 9, "1/2 in"), "needs a unit without a number, .*; you gave '1/2 in'"),
    (partial(Q, 12, "VDC"), "'12 VDC' cannot be read: .* type \"12 V\""),
    (partial(Q, foreign_with_armlength().Quantity(1, "armlength")), "Q cannot take over 1 armlength"),
    (partial(Q, pint.Quantity([1.0, math.inf], "V")), "value needs finite numbers"),
    (partial(Q, math.nan, "V"), "value needs finite numbers; you gave nan"),
    (partial(Q, [], "V"), "value needs at least one number"),
    *((partial(Q, wrong, "V"), "value needs numbers") for wrong in NO_NUMBERS),
)


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(["V", "mA", "kohm", "µF", "degC"]))
def test_numbers_pass_through_unchanged(number, symbol):
    assert Q(number, symbol).magnitude == number


def test_nothing_is_kept_that_another_environment_would_read(tmp_path):
    homes = dict.fromkeys(("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA", "USERPROFILE"), str(tmp_path))
    code = "from sigcalc import Q; print(Q('9 V'))"
    assert subprocess.check_output([sys.executable, "-c", code], env=os.environ | homes, text=True) == "9 V\n"
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]
