"""What a lamp looks like, beside one in full light and on its own: the words, with the limits that part them."""

from __future__ import annotations

from ...parts.led import LIT_FROM, Led

FULL, DIM, CLEARLY_DIM, FAINT, DARK = "full light", "a little dim", "clearly dim", "faint", "dark"
GRADES = (FULL, DIM, CLEARLY_DIM, FAINT, DARK)

# common practice, no source: a tenth less light beside a full lamp is not seen, a third less is seen at a glance; with
# a fifth a lamp no longer passes for one that is meant to be lit, and with a hundredth for one that is lit at all
UNSEEN, SEEN, FAINT_BELOW, OUT_BELOW = 0.9, 0.67, 0.2, 0.01


def brightness_word(share: float, current: float) -> str:
    """What a lamp with that share of its light looks like beside a full one; `current` in A, for one that is dark."""
    if current <= LIT_FROM:
        return DARK
    limits = ((UNSEEN, FULL), (SEEN, DIM), (FAINT_BELOW, CLEARLY_DIM), (OUT_BELOW, FAINT))
    return next((word for least, word in limits if share >= least), DARK)


TOO_LITTLE, FEEBLE, NORMAL, BRIGHT, GLARING = "too little to see", "dim", "normal light", "bright", "glaring"
OVERLOADED, DEAD = "overloaded", "dead"
SHINING = (FEEBLE, NORMAL, BRIGHT, GLARING, OVERLOADED)
# in cd, our choice, no source: seen in a lit room from as far as one stands from a layout, where a few mcd are usual
_LIGHTS = ((1.0, GLARING), (0.02, BRIGHT), (1e-3, NORMAL), (5e-5, FEEBLE), (0.0, TOO_LITTLE))
_USUAL = 0.01  # cd, at half its most current, of an LED of which no light is known; our choice, no source
_DEAD_ABOVE = 3.0  # times the most current: beyond what sheets allow in short pulses; common practice, no source


def lamp_look(led: Led, current: float) -> str:
    """What a lamp looks like with a current in A through it: one of SHINING, or DARK, TOO_LITTLE or DEAD."""
    most = led.si.max_current
    if current <= LIT_FROM:
        return DARK
    if current > most:
        return DEAD if current > _DEAD_ABOVE * most else OVERLOADED
    light = 2 * _USUAL * current / most if led.intensity is None else float(led.light_si(current))
    return next(word for least, word in _LIGHTS if light >= least)


def shines(led: Led, current: float) -> bool:
    """Whether a lamp with a current in A through it gives light to be seen: neither dark nor dead."""
    return lamp_look(led, current) in SHINING
