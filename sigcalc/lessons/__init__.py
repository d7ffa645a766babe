"""The exercises of the lessons: every answer, and every likely wrong answer, is a formula."""

from .question import Mistake, Question, Verdict

__all__ = ["Mistake", "Question", "Verdict"]
