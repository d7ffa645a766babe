"""A button as a control: what is pressed is told once, and heard."""

from sigcalc.panels.press import Press


def test_a_press_is_taken_once():
    button = Press("measure", "measure here")
    assert not button.taken()
    button.widget.click()
    assert button.value
    assert button.taken()
    assert not button.taken()


def test_those_who_listen_hear_it_and_find_it_pressed():
    button, heard = Press("go"), []
    button.on_change(lambda: heard.append(button.taken()))
    button.widget.click()
    button.widget.click()
    assert heard == [True, True]


def test_it_is_named_for_those_who_do_not_see_it():
    button = Press("measure", "measure here")
    assert (button.widget.description, button.widget.tooltip, button.name) == ("measure here",) * 2 + ("measure",)
