"""Sliders in, a picture out: what the notebooks show. No formula here: panels ask the floors below."""

from .alert import install

install()
