"""Where a panel's pictures are on a small screen and on a projector, for no other test sees the stylesheet at work."""

LESSON = "3_two_wires_two_colours.ipynb"


def test_both_pictures_are_seen_at_once_and_in_large_type_the_picture_is_not_below_the_controls(open_lesson):
    lesson = open_lesson(LESSON)
    lesson.page.set_viewport_size({"width": 1280, "height": 720})
    lesson.wait_until_run()
    panel = lesson.page.locator(".sigcalc-panel").first
    looks, drawn = (each.bounding_box() for each in panel.locator("svg").all())
    assert looks["x"] + looks["width"] <= drawn["x"]
    assert abs(looks["y"] - drawn["y"]) < 2

    panel.get_by_label("large type for the projector").check()
    lesson.page.locator(".sigcalc-panel.sigcalc-large").wait_for()
    view, controls = (panel.locator(each).bounding_box() for each in (".sigcalc-view", ".sigcalc-controls"))
    assert abs(view["y"] - controls["y"]) < 40
    assert view["width"] > 2 * controls["width"]
