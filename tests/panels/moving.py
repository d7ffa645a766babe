"""What tests of panels share: controls set by name, and what the findings say."""

from contextlib import contextmanager


@contextmanager
def at_once(panel):
    """Sets controls together and draws once: nothing is asserted of what would be shown in between."""
    with panel.silent():
        yield
    panel.redraw()


def put(panel, **values):
    """Set controls by name (underscores for blanks), and give what is then shown."""
    with at_once(panel):
        for name, value in values.items():
            panel[name.replace("_", " ")].value = value
    return panel.picture


def grades(scene):
    """The grade of each finding by its topic."""
    return {each.topic: each.grade for each in scene.findings}
