"""A button acts when the browser has sent what it held back, and at once where a program presses it."""

from sigcalc.panels.control import Button


def made():
    button, heard = Button(description="Save"), []
    button.on_click(lambda _: heard.append(button.waiting))
    return button, heard


def press_in_browser(button):
    button._handle_custom_msg({"event": "click"}, [])


def test_a_press_in_the_browser_waits_for_its_echo():
    button, heard = made()
    press_in_browser(button)
    assert button.waiting
    assert heard == []
    button.set_state({"due": button.pressed})
    assert heard == [False]
    press_in_browser(button)
    button.set_state({"due": button.pressed})
    assert heard == [False, False]


def test_presses_that_come_back_together_are_one():
    button, heard = made()
    press_in_browser(button)
    press_in_browser(button)
    button.set_state({"due": button.pressed})
    assert heard == [False]


def test_a_program_need_not_wait():
    button, heard = made()
    button.click()
    assert heard == [False]


def test_another_message_is_no_press():
    button, _ = made()
    button._handle_custom_msg({"event": "focus"}, [])
    assert not button.waiting
