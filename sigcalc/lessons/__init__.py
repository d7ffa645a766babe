"""The exercises and predictions of the lessons: every answer, and every likely wrong answer, is a formula."""

from .choice import Bands, Choice, DarkCircuit, Joined, Option, Prediction, WiringAt
from .question import Draw, Question, Verdict

__all__ = [
    "Bands",
    "Choice",
    "DarkCircuit",
    "Draw",
    "Joined",
    "Option",
    "Prediction",
    "Question",
    "Verdict",
    "WiringAt",
]
