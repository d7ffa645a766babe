"""A lesson as it is seen: where a panel's pictures are on two sizes of screen, and no barrier to anybody."""

from playwright.sync_api import expect

LESSON = "3_two_wires_two_colours.ipynb"


def test_both_pictures_are_seen_at_once_in_large_type_one_is_not_below_the_controls_and_all_can_use_the_lesson(
    open_lesson,
):
    lesson = open_lesson(LESSON)
    lesson.page.set_viewport_size({"width": 1280, "height": 720})
    lesson.wait_until_run()
    panel = lesson.page.locator(".sigcalc-panel").first
    expect(panel.locator("svg:visible")).to_have_count(0)  # it answers a guess
    lesson.page.get_by_role("radio").first.check()
    expect(panel.locator("svg:visible")).to_have_count(2)
    looks, drawn = (each.bounding_box() for each in panel.locator("svg").all())
    assert looks["x"] + looks["width"] <= drawn["x"]
    assert abs(looks["y"] - drawn["y"]) < 2

    panel.get_by_label("large type for the projector").check()
    lesson.page.locator(".sigcalc-panel.sigcalc-large").wait_for()
    view, controls = (panel.locator(each).bounding_box() for each in (".sigcalc-view", ".sigcalc-controls"))
    assert abs(view["y"] - controls["y"]) < 40
    assert view["width"] > 2 * controls["width"]

    panel.get_by_label("large type for the projector").uncheck()
    assert lesson.page.locator(".sigcalc-exercise").count()
    assert lesson.barriers() == []
    assert lesson.error_count() == 0
