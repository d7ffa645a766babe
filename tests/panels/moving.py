"""What tests of panels share: controls set by name, and what is shown then."""

import html
from contextlib import contextmanager

import pytest


def fresh(kind):
    """A fixture: a panel of a kind as a reader first sees it."""
    return pytest.fixture(lambda *_: kind())


@contextmanager
def at_once(panel):
    """Sets controls together and draws once: nothing is asserted of what would be shown in between."""
    with panel.silent():
        yield
    panel.redraw()


def put(panel, named=(), **values):
    """Set controls by name (underscores for blanks), and give what is then shown."""
    with at_once(panel):
        for name, value in {**dict(named), **values}.items():
            panel[name.replace("_", " ")].value = value
    return panel.picture


def grades(scene):
    """The grade of each finding by its topic."""
    return {each.topic: each.grade for each in scene.findings}


def refused(panel):
    """The sentence with which the panel refuses, in place of a picture."""
    assert panel.picture is None
    assert 'role="alert"' in panel.view.value
    return html.unescape(panel.view.value)
