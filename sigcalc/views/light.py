"""How a lamp is drawn: its colour, the word for its light, and its glow, the same in circuits and among things."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.lamp.drive import DARK, DEAD, NORMAL, OVERLOADED, SHINING, lamp_glow, lamp_look
from ..parts.led import Led
from .style import lamp_fill, mixed

_UNLIT = "#8A8286"  # a lens with no light behind it is tinted by its colour, and dull
_HALO = 14  # rings, each fainter than the one within
_USUAL = 0.7  # the glow of a lamp of which only is known that it is lit


@dataclass(frozen=True)
class Light:
    """The light of one lamp: its colour, one of the words of `design.lamp.drive`, and the glow from 0 to 1.6."""

    colour: str
    word: str
    glow: float

    @classmethod
    def of(cls, led: Led, current: float) -> Light:
        """Of an LED with a current in A through it."""
        return cls(led.colour, lamp_look(led, current), lamp_glow(led, current))

    @classmethod
    def switched(cls, colour: str, lit: bool) -> Light:
        """Of a lamp of which only is known whether it is lit."""
        return cls(colour, NORMAL if lit else DARK, _USUAL if lit else 0.0)

    @property
    def shines(self) -> bool:
        """Whether its light can be seen."""
        return self.word in SHINING

    @property
    def dead(self) -> bool:
        """Whether the lamp has been destroyed."""
        return self.word == DEAD

    @property
    def fill(self) -> str:
        """The colour of its light."""
        return lamp_fill(self.colour)

    @property
    def lens(self) -> str:
        """The colour of its lens: dull when dark, nearer to white the more it glares."""
        if self.dead:
            return "#37322F"
        dull = mixed(self.fill, _UNLIT, 0.68)
        lit = mixed(dull, self.fill, min(0.35 + 0.65 * self.glow, 1.0)) if self.shines else dull
        return mixed(lit, "#FFFFFF", min(max(self.glow - 1.0, 0.0), 1.0) * 0.45)

    def said(self, name: str = "") -> str:
        """The words beside the lamp: "RED ON", "RED DARK", "RED DEAD", and how much light where that is not normal."""
        state = "on" if self.shines else "dead" if self.dead else "dark"
        more = "" if self.word in (DARK, DEAD) else f", {self.word.upper() if self.word == OVERLOADED else self.word}"
        return f"{name or self.colour} {state}".upper() + more

    def halo(self, radius: float) -> list[tuple[float, float]]:
        """Rings around a lens of that radius, as (radius, opacity); together they fade outwards like light."""
        if not self.shines:
            return []
        reach, strength = radius * (1.3 + 1.3 * self.glow), min(0.03 + 0.05 * self.glow, 0.085)
        shares = (step / _HALO for step in range(_HALO, 0, -1))
        return [(radius + (reach - radius) * share**1.3, strength * (1.6 - 1.5 * share)) for share in shares]
