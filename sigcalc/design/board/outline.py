"""Outlines of lamps: diameters of body and flange, with their tolerance."""

from __future__ import annotations

from ...errors import RangeError
from ...parts.table import Figures, PartsTable
from ...units import Length, record, say


@record
class LampOutline:
    """Diameters of a round lamp: of its body, and of the flange at its foot (None where it is not known)."""

    name: str
    body_least: Length
    body_most: Length
    flange_least: Length | None = None
    flange_most: Length | None = None

    def __post_init__(self) -> None:
        for what in ("body", "flange"):
            least, most = (getattr(self.si, f"{what}_{end}") for end in ("least", "most"))
            if (least is None) != (most is None):
                raise RangeError(f"{what}_least and {what}_most are needed both or neither; give the other one as well")
            if least is not None and not 0 < least <= most:
                raise RangeError(
                    f"{what}_least needs to be more than nothing and no more than {what}_most, "
                    f"but {say(least, 'm')} and {say(most, 'm')} came; measure the {what} again"
                )


def _outline(name: str, figures: Figures) -> LampOutline:
    return LampOutline(name, **{quantity.replace(" ", "_"): figure.text for quantity, figure in figures.items()})


lamp_outlines: PartsTable[LampOutline] = PartsTable("lamp outline", "outlines.csv", _outline)
"""Outlines by name: "3 mm lamp, T-1 outline"."""
