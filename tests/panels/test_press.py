"""A button that is pressed, and a list with something below it."""

from sigcalc.panels.press import Pick, Press


def test_a_press_is_taken_once_and_is_named_for_those_who_do_not_see_it():
    button, heard = Press("measure", "measure here"), []
    assert (button.widget.description, button.widget.tooltip) == ("measure here",) * 2
    assert not button.taken()
    button.on_change(lambda: heard.append((button.value, button.taken(), button.taken())))
    button.widget.click()
    button.widget.click()
    assert heard == [(True, True, False)] * 2


def test_a_list_with_a_button_calls_back_for_another_choice_and_for_each_press():
    picked, heard = Pick("meter at", ["pair", "supply"], Press("measure here"), "supply"), []
    picked.on_change(lambda: heard.append((picked.value, picked.below.taken())))
    picked.below.widget.click()
    picked.value = "pair"
    picked.put("supply")
    assert heard == [("supply", True), ("pair", False), ("supply", False)]
