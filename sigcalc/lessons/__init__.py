"""The exercises of the lessons: every answer, and every likely wrong answer, is a formula."""

from .question import Question, Verdict

__all__ = ["Question", "Verdict"]
