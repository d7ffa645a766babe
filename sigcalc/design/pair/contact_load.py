"""Whether a signal's few milliamperes are enough for a switch's or relay's contacts, and not too much."""

from __future__ import annotations

from ...parts.contacts import ContactRating, contact_ratings
from ...units import Current, SupplyVoltage, record, say, with_units
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding


@record
class ContactLoad:
    """A signal's current and supply set against what a contact needs and bears."""

    rating: ContactRating
    current: Current
    voltage: SupplyVoltage

    @property
    def enough(self) -> bool:
        """Whether the load keeps the contact clean."""
        return self.si.current >= self.rating.si.least_current and abs(self.si.voltage) >= self.rating.si.least_voltage

    @property
    def too_much(self) -> bool:
        """Whether the load is beyond what the contact may carry."""
        return self.si.current > self.rating.si.most_current

    @property
    def sentence(self) -> str:
        """Load and rating, in words."""
        least = f"{say(self.rating.si.least_current, 'A')} at {say(self.rating.si.least_voltage, 'V')}"
        memory = " (common practice, no source)" if self.rating.common_practice else ""
        return (
            f"The {self.rating.name} wants at least {least}{memory} and bears {say(self.rating.si.most_current, 'A')}; "
            f"the signal gives it {say(self.si.current, 'A')} at {say(self.si.voltage, 'V')}."
        )


@with_units(scalar=True)
def contact_load(contact: str | ContactRating, current: Current, voltage: SupplyVoltage) -> ContactLoad:
    """Set a signal's current and supply voltage against a contact's rating (a name in `contact_ratings` or a record).

    Raises UnknownNameError for a contact in no table, UnitError or RangeError for a bad current or voltage.
    """
    rating = contact if isinstance(contact, ContactRating) else contact_ratings[contact]
    return ContactLoad.of(rating=rating, current=current, voltage=voltage)


def findings(result: ContactLoad) -> tuple[Finding, ...]:
    """The verdict on a contact's load, with its remedy."""
    if result.too_much:
        return (Finding(STOP, "contacts", result.sentence, "Take a contact with a higher rating.", DAMAGE),)
    if not result.enough:
        remedy = (
            "Take a signal relay or a switch with gold contacts: a film may keep the heavier contact from conducting."
        )
        return (Finding(LOOK, "contacts", result.sentence, remedy),)
    return (Finding(FINE, "contacts", result.sentence),)
