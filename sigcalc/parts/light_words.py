"""What a lamp looks like beside one in full light: one set of words, with the shares of light that part them."""

from __future__ import annotations

from .led import LIT_FROM

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
