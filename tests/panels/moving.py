"""What tests of panels share: controls set by name, and what the findings say."""


def put(panel, **values):
    """Set controls by name (underscores for blanks), and give what is then shown."""
    for name, value in values.items():
        panel[name.replace("_", " ")].value = value
    return panel.picture


def grades(scene):
    """The grade of each finding by its topic."""
    return {each.topic: each.grade for each in scene.findings}
