"""How strong a magnet is by the flux index, the measure by which magnets are kept from children."""

from __future__ import annotations

from ...parts.magnet import BarMagnet, Magnet, as_magnet
from ...units import Count, record
from ..findings import FINE, LOOK, Finding

LIMIT = 50.0
"""In kG2 mm2: small loose magnets in goods for amusement must stay below it (16 CFR 1262.2)."""
_KILOGAUSS = 10.0  # in a tesla
_SQUARE_MILLIMETRES = 1e6  # in a square metre


@record
class MagnetHazard:
    """A magnet's flux index: the square of the flux density at its pole, in kG, times the pole's area in mm2."""

    magnet: Magnet | BarMagnet
    flux_index: Count

    @property
    def times(self) -> float:
        """How many times the limit."""
        return self.si.flux_index / LIMIT


def magnet_hazard(magnet: Magnet | BarMagnet | str) -> MagnetHazard:
    """The flux index, with the flux density on the axis at the pole's face, for the strongest of its grade.

    The rule measures the greatest density a little above the face: this is a rough figure.

    Raises UnknownNameError for a magnet in no table, UnitError for what is none.
    """
    magnet = as_magnet(magnet)
    strongest = magnet.remanence_band[2] / magnet.si.remanence
    kilogauss = float(magnet.on_axis(0.0)) * strongest * _KILOGAUSS
    area = magnet.volume / magnet.si.length * _SQUARE_MILLIMETRES
    return MagnetHazard.of(magnet=magnet, flux_index=kilogauss**2 * area)


def findings(result: MagnetHazard) -> tuple[Finding, ...]:
    """The verdict on leaving such a magnet where a child may find it."""
    index = float(f"{result.si.flux_index:.2g}")
    reason = (
        f"The {result.magnet.name} magnet has a flux index of about {index:g} kG² mm²; small loose "
        f"magnets in goods for amusement must stay below {LIMIT:g} (16 CFR 1262)."
    )
    if result.times < 1:
        return (Finding(FINE, "magnet and children", reason),)
    remedy = (
        "Glue it in for good, count the spare ones and lock them away. Two that were swallowed attract each other "
        "through the bowel: get medical help at once."
    )
    return (Finding(LOOK, "magnet and children", f"{reason} Never let it lie about.", remedy),)
