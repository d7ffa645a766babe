"""The panels of "resistor or constant current" say what the library says, at every position."""

import itertools

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.drive_choice import REGULATOR
from sigcalc.panels.base import AS_IT_LOOKS, BOTH
from sigcalc.panels.resistor_or_constant_current import (
    CURVE,
    FIGURES,
    GREEN_ALONE,
    LAMPS,
    OTHERS,
    RED_ALONE,
    TOGETHER,
    DriveChoice,
    SharedDriver,
)
from sigcalc.parts.led import leds
from tests.panels.moving import fresh, put, refused
from tests.views.svg import parse, texts, view_box, words

panel = fresh(DriveChoice)


def test_fresh_both_give_about_the_same(panel):
    scene = panel.picture
    assert scene.sentence.startswith("Fresh, at 9 V, the resistor gives 8.76 mA and the driver gives 10 mA.")
    assert [(each.grade, "every drive keeps the light" in each.reason) for each in scene.findings] == [(FINE, True)]


def test_sagged_the_driver_keeps_the_light(panel):
    scene = put(panel, it_has_sagged_by=3)
    assert "At 6 V, down from 9 V, the resistor keeps 58.7 % of the light (5.14 mA)" in scene.sentence
    assert [each.reason for each in scene.findings] == ["The driver keeps the light best over this supply."]


def test_on_a_wall_each_lamp_has_its_share_of_light_beside_it(panel):
    panel.stage.value = True
    scene = put(panel, it_has_sagged_by=4)
    assert scene.brief == "Resistor: 45 % of the light; driver: 100 %."
    assert {"45 %", "100 %", "CLEARLY DIMMER"} <= set(words(scene.pictures[0]))
    assert "45 %" not in words(put(panel, in_series=2).pictures[0])  # where two LEDs leave no room
    assert (
        put(panel, in_series=1, it_has_sagged_by=0).brief == "Fresh: 8.76 mA with the resistor, 10 mA with the driver."
    )


def test_where_all_are_dark_no_drive_is_called_fine(panel):
    scene = put(panel, it_has_sagged_by=8)
    (finding,) = scene.findings
    assert finding.grade == LOOK
    assert finding.reason.startswith("At 1 V less than a tenth of the light is left")
    assert scene.sentence.count("under 0.1 % of the light") == 2
    assert "e-" not in scene.pictures[0].sentence


def test_a_regulator_set_to_less_than_its_minimum_load_is_looked_at_again(panel):
    scene = put(panel, wanted_current=5, beside_the_resistor=REGULATOR)
    assert [each.grade for each in scene.findings] == [LOOK, FINE]
    assert "minimum load" in scene.findings[0].reason
    assert all(each.grade == FINE for each in put(panel, wanted_current=20).findings)


def test_how_the_light_falls_is_not_said_twice(panel):
    for other, sag in itertools.product(OTHERS.values(), (0, 4, 7.5)):
        scene = put(panel, it_has_sagged_by=sag, beside_the_resistor=other, wanted_current=20)
        assert not any("the light falls to" in each.reason for each in scene.findings)


def test_the_views(panel):
    for view, show, count in ((LAMPS, BOTH, 2), (LAMPS, AS_IT_LOOKS, 1), (CURVE, BOTH, 1), (FIGURES, BOTH, 1)):
        assert len(put(panel, it_has_sagged_by=2, view=view, show=show).pictures) == count
    (curve,) = put(panel, view=CURVE).pictures
    assert "At 7 V the resistor passes 6.35 mA, the driver passes 10 mA." in curve.sentence


def test_the_axes_stay_while_the_sliders_move(panel):
    put(panel, view=CURVE)
    ends = []
    for current, sag in itertools.product((1, 10, 25), (0, 8)):
        put(panel, wanted_current=current, it_has_sagged_by=sag)
        ends.append((panel.curve.axes.get_xlim(), panel.curve.axes.get_ylim()))
    assert len(set(ends)) == 1


def test_too_many_leds_are_refused_with_what_to_do(panel):
    put(panel, LED=leds["white 3 mm"], in_series=3, wanted_current=25)
    assert "nothing would light; use at least" in refused(panel)
    assert put(panel, power="12 V adapter") is not None


shared = fresh(SharedDriver)


def test_at_once_the_lower_drop_takes_it_all(shared):
    assert "Together" not in shared.picture.sentence, "the reader guesses at it first"
    put(shared, lit="both")
    assert "red wants 4 mA and gets 9.99 mA" in shared.picture.sentence
    assert shared.picture.sentence.endswith("Together that is 10 mA of the driver's 10 mA.")
    assert [each.topic for each in shared.picture.findings] == ["one driver for both"]
    assert "one with the lowest drop" in shared.picture.findings[0].reason


def test_a_resistor_in_red_brings_them_nearer(shared):
    (why,) = put(shared, lit="both", resistor_in_red=1000).findings  # green, with the higher drop, gets most
    assert "left to the branches" in why.reason
    (why,) = put(shared, lit="red").findings  # 10 mA through 1 kohm would need more than 9 V
    assert "the red branch leaves too little voltage" in why.reason
    put(shared, lit="both")
    red = put(shared, resistor_in_red=100, red_wants=5, green_wants=5).sentence
    assert "green gets 10.3" not in red
    assert "% of what it wants" in red or "about right" in red


def test_on_a_wall_stand_the_bars_of_what_each_lamp_gets(shared):
    shared.stage.value = True
    scene = put(shared, lit="both", resistor_in_red=300)
    assert scene.brief == "Together: red 1.72 mA, wants 4; green 8.28 mA, wants 10."
    assert {"RED GETS", "1.72 mA", "8.28 mA"} <= set(words(scene.pictures[0]))
    assert shared.show._source.disabled  # there is nothing it could change
    shared.stage.value = False
    assert not shared.show._source.disabled


def test_in_turn_a_resistor_changes_nothing(shared):
    before = put(shared, lit=RED_ALONE).sentence
    assert "green wants 10 mA and gets 10 mA, about right" in before
    assert "Together" not in before
    scene = put(shared, resistor_in_red=300)
    assert scene.sentence == before
    assert scene.findings[0].grade == LOOK
    assert {"RED ON", "GREEN ON"} & set(words(scene.pictures[0])) == {"RED ON"}
    assert {"RED ON", "GREEN ON"} & set(words(put(shared, lit=GREEN_ALONE).pictures[0])) == {"GREEN ON"}
    assert [each.grade for each in put(shared, red_wants=10).findings] == [FINE]
    too_much = put(shared, driver=20, red_LED=leds["low-current red 3 mm"])
    assert STOP in {each.grade for each in too_much.findings}


def test_no_label_lies_on_another_at_the_ends_of_the_sliders(panel, shared):
    pictures = []
    for sag, count, other in itertools.product((0, 8), (1, 3), OTHERS.values()):
        pictures += put(
            panel, power="12 V adapter", it_has_sagged_by=sag, in_series=count, beside_the_resistor=other, show=BOTH
        ).pictures
    for driver, ohms, lit in itertools.product((1, 25), (0, 1000), (TOGETHER, RED_ALONE, GREEN_ALONE)):
        pictures += put(shared, driver=driver, resistor_in_red=ohms, lit=lit, show=BOTH).pictures
    for picture in pictures:
        _, _, width, _ = view_box(parse(picture))
        assert all(0 <= text.left <= text.right <= width for text in texts(picture)), picture.sentence
        pairs = itertools.combinations(texts(picture), 2)
        assert not [(one.words, other.words) for one, other in pairs if one.overlaps(other)], picture.sentence
