"""A signal as the builder wants it: the model, the text file, and the study that ties all decisions together."""

from .plan import Plan

__all__ = ["Plan"]
