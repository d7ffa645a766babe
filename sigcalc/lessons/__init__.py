"""The exercises and predictions of the lessons: every answer, and every likely wrong answer, is a formula."""

from .choice import Bands, Choice, Option, Prediction, WiringAt
from .question import Draw, Question, Verdict

__all__ = ["Bands", "Choice", "Draw", "Option", "Prediction", "Question", "Verdict", "WiringAt"]
