"""Questions answered by choosing: a sentence, a picture, what is wrong in a wiring; and a guess made beforehand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..design.lamp.drive import OperatingPoint
from ..design.pair.wiring import Shown, Wiring, as_wiring, show
from ..units import say
from .question import Verdict

LETTERS = "ABCDEF"


@dataclass(frozen=True)
class Option:
    """One of the answers: what it says, why it is right or which slip leads there, and what is drawn for it.

    `shows` is a record that has a picture (`views/exercise.py`); `says` is then the picture's text alternative too, so
    it tells what is seen and not what follows from it.
    """

    says: str
    reason: str
    right: bool = False
    shows: Any = None


@dataclass(frozen=True)
class Choice:
    """A question with a few answers to choose from, one of them right; `shows` is drawn above all of them."""

    text: str
    options: tuple[Option, ...]
    hint: str
    working: str
    shows: Any = None

    @property
    def lettered(self) -> dict[str, Option]:
        """The options by their letters."""
        return dict(zip(LETTERS, self.options, strict=False))

    def check(self, given: str) -> Verdict:
        """Whether the option of this letter is right, and why or why not."""
        option = self.lettered[given]
        return Verdict(option.right, f"{'Right. ' if option.right else ''}{option.reason}")


@dataclass(frozen=True)
class Prediction:
    """A guess before the panel, and what is said of it afterwards; nothing is right or wrong while it is made.

    Attributes
    ----------
    options: each with what follows "You said ..., and"
    seen: what the panel shows, for those who made no guess
    belief: the widespread belief that the question brings up, if it does
    """

    text: str
    options: Mapping[str, str]
    seen: str
    belief: str = ""

    @classmethod
    def seeing(cls, seen: str, text: str, options: Mapping[str, str], belief: str = "") -> Prediction:
        """One where each option has a few words of its own, and then what the panel shows."""
        return cls(text, {said: f"{words} {seen}" for said, words in options.items()}, seen, belief)

    def repeated(self, said: str) -> str:
        """The option that was chosen, or that none was, "", without a word of the answer."""
        return f"You said “{said}”." if said else f"{self.text} You made no guess; no harm done."

    def told(self, said: str) -> str:
        """What is said afterwards to the option that was chosen, or to none, ""."""
        if not said:
            return f"{self.repeated(said)} {self.seen}"
        return f"You said “{said}”, and {self.options[said]}"


@dataclass(frozen=True)
class WiringAt:
    """A wiring of one signal with its switch or relay in one position, to be drawn."""

    of: str | Wiring
    position: str

    @property
    def wiring(self) -> Wiring:
        """The wiring itself, or the one of that name."""
        return as_wiring(self.of)

    @property
    def shown(self) -> Shown:
        """What the signal shows then."""
        return show(self.wiring, self.wiring.closed([self.position]), self.wiring.in_words([self.position]))

    @property
    def wires(self) -> str:
        """Which wire goes from where to where."""
        label = self.wiring.devices[0][0]
        words = {"+": "plus", "-": "minus", "A": "wire A", "B": "wire B"}
        joined = [[words.get(end, end.removeprefix(f"{label} ")) for end in each] for each in self.wiring.jumpers]
        return ", ".join(f"{a} to {b}" for a, b in joined)

    @property
    def cross(self) -> str:
        """The wires from one outer terminal of the switch to another."""
        return ", ".join(each for each in self.wires.split(", ") if each.startswith("up "))

    @property
    def says(self) -> str:
        """How the switch is set and where the wires go: no more than the eye sees."""
        return f"{self.wiring.in_words([self.position])}: {self.wires}"


@dataclass(frozen=True)
class DarkCircuit:
    """A supply, a resistor and an LED, to be drawn unlit and without what is across what."""

    point: OperatingPoint

    @property
    def says(self) -> str:
        """Where each end goes, and how the LED points: no more than the eye sees."""
        above, below = ("plus", "minus") if self.point.si.led_voltage > 0 else ("minus", "plus")
        ohms = say(self.point.drive.si.resistance, "ohm")
        return (
            f"The upper wire goes from {above} through a resistor of {ohms} to the LED. The LED's arrow points down, "
            f"to the lower wire, which goes back to {below}."
        )


@dataclass(frozen=True)
class Joined:
    """Two resistors, in ohm, as they lie on the table, joined in one way or the other."""

    first: float
    second: float
    parallel: bool

    @property
    def says(self) -> str:
        """Which ends are joined: no more than the eye sees."""
        first, second = say(self.first, "ohm"), say(self.second, "ohm")
        if self.parallel:
            return f"The left wire goes to the left ends of {first} and {second}, the right wire to both right ends."
        return f"The left wire goes to {first}, its other end to {second}, and that one's other end to the right wire."


@dataclass(frozen=True)
class Bands:
    """The colour bands of a resistor, to be drawn without what they mean."""

    colours: tuple[str, ...]

    @property
    def says(self) -> str:
        """The colours in words."""
        return ", ".join(self.colours)
