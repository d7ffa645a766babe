"""Relays: what the coil needs and draws, how quick they are, what their contacts need and are rated for.

A row of `data/relays.csv` is one coil; what all coils of a series share is in `data/relay_series.csv`.
"""

from __future__ import annotations

from typing import Annotated, Any

from ..errors import RangeError
from ..physics.copper import REFERENCE_TEMPERATURE, TEMPERATURE_COEFFICIENT
from ..units import Count, Power, QuantityKind, Resistance, SupplyVoltage, Temperature, Time, Tolerance, record
from .contacts import ContactRating
from .table import Figures, PartsTable, as_part, from_rows, need_rising, read_figures

Inductance = Annotated[Any, QuantityKind("inductance", "H", 0.0, 1e3, "0.74 H")]
RatedShare = Annotated[Any, QuantityKind("share of the rated voltage", "", 0.0, 5.0, "120 %", bare=True)]

_CONTACT_ROWS = ("least_current", "least_voltage", "most_current")


@record
class Relay:
    """A relay: coil, contacts and times.

    Attributes
    ----------
    rated_voltage, coil_resistance: at `reference_temperature`, the latter with `coil_tolerance`
    must_operate: share of the rated voltage at which every relay of the kind has pulled in
    must_release: share at which every relay of the kind has let go, which it may do anywhere below `must_operate`;
        None where it latches
    most_share: the most voltage allowed across the coil, as a share of the rated voltage
    operate_time, release_time: the longest, without a diode across the coil
    poles: moving contacts; two are needed to turn a current round
    latching: stays as it was put by a pulse, without current
    inductance_released, inductance_operated: of the coil with the armature off and on; None where not known
    """

    name: str
    rated_voltage: SupplyVoltage
    coil_resistance: Resistance
    must_operate: RatedShare
    most_share: RatedShare
    coil_power: Power
    operate_time: Time
    release_time: Time
    poles: Count
    contacts: ContactRating
    must_release: RatedShare | None = None
    coil_tolerance: Tolerance = 0.1
    reference_temperature: Temperature = "23 °C"
    latching: bool = False
    inductance_released: Inductance | None = None
    inductance_operated: Inductance | None = None
    note: str = ""

    def __post_init__(self) -> None:
        si = self.si
        for name in ("rated_voltage", "coil_resistance", "poles"):
            need_rising(self, name)
        if si.poles != round(si.poles):
            raise RangeError(argument="poles", need="a whole number", given=f"{si.poles:g}")
        if self.latching != (si.must_release is None):
            raise RangeError(
                f"must_release of {self.name} belongs to a relay that does not latch, and only to such a one; "
                'give for example must_release="5 %", or latching=True without it'
            )
        need_rising(self, "must_release", "must_operate", "most_share")

    def warmth(self, temperature: Any) -> Any:
        """By which factor the coil's resistance, and with it every voltage it needs, grows at a temperature in K.

        The pull needs a current, and copper resists more when it is warm. Source: IEC 60028, 0.00393/K at 20 °C.
        """
        zero = REFERENCE_TEMPERATURE - 1 / TEMPERATURE_COEFFICIENT  # where the straight line reaches zero, in K
        return (temperature - zero) / (self.si.reference_temperature - zero)

    def resistances(self, temperature: float) -> tuple[float, float, float]:
        """Least, nominal and most resistance of the coil in ohm at a temperature in K."""
        ohms = self.si.coil_resistance * self.warmth(temperature)
        return ohms * (1 - self.si.coil_tolerance), ohms, ohms * (1 + self.si.coil_tolerance)

    def operate_voltage(self, temperature: float) -> float:
        """Coil voltage in V from which every relay of the kind has pulled in, at a coil temperature in K."""
        return self.si.must_operate * self.si.rated_voltage * self.warmth(temperature)

    @property
    def inductance(self) -> float | None:
        """The greater of the two inductances in H, for the slowest release."""
        known = [each for each in (self.si.inductance_released, self.si.inductance_operated) if each is not None]
        return max(known, default=None)


def as_relay(relay: Any) -> Relay:
    """The relay itself or by its name in `relays`; UnitError or UnknownNameError where it is none."""
    return as_part(relay, Relay, relays)


def _relay(name: str, figures: Figures) -> Relay:
    series = figures["series"].value
    rows = {**read_figures("relay_series.csv")[series], **figures}
    contacts = ContactRating(f"{series} relay", **{key: rows[key].text for key in _CONTACT_ROWS})
    return from_rows(Relay, "series", *_CONTACT_ROWS)(name, rows, contacts=contacts)


relays: PartsTable[Relay] = PartsTable("relay", "relays.csv", _relay)
"""Signal relays by coil and series: "9 V two-pole", "12 V two-pole sensitive", "5 V two-pole latching", ..."""
