"""Two signals on their wires, on a page and on a wall: which lamps are lit, and the short circuit of a shared one."""

import pytest

from sigcalc.design.pair.wiring import reversing, show, wirings
from sigcalc.errors import DesignError
from sigcalc.views.shared_wires import signals_on_wires
from sigcalc.views.style import NORMAL, STAGE, lamp_fill
from tests.views.svg import fills, group, groups, words

CASES = [(name, at) for name, each in wirings.items() if len(each.signals) == 2 for at in reversing(name).states]
SHARED = "two signals, one supply, shared return"


@pytest.mark.parametrize("size", [NORMAL, STAGE], ids=["page", "wall"])
@pytest.mark.parametrize(("name", "positions"), CASES)
def test_of_two_signals_the_lit_lamps_and_the_short_circuit_are_shown(name, positions, size):
    shown = reversing(name).states[positions]
    picture = signals_on_wires(wirings[name], shown, size)
    for signal, lamp in zip(shown.signals, shown.lamps, strict=True):
        for each in ("red", "green"):
            found = fills(group(picture, f"led {each} of {signal} {'lit' if each == lamp else 'dark'}"))
            assert (lamp_fill(each).lower() in found) == (each == lamp)
    assert bool(groups(picture, "short circuit")) == shown.short
    assert len(groups(picture, "wire ")) == len({lead for _, *leads in wirings[name].signals for lead in leads})
    if name == SHARED and shown.short:
        assert {"return on + and −", "SHORT CIRCUIT"} <= set(words(picture))


def test_other_wirings_are_refused():
    crossed = wirings["crossed double-throw switch"]
    with pytest.raises(DesignError, match="two signals"):
        signals_on_wires(crossed, show(crossed, (), "open"))
