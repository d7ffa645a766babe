"""Talks on the panels they name: each control is there and takes what the talk sets it to."""

import re

import pytest

from sigcalc import Layout, Plan, Talk
from sigcalc.lessons import own_talk
from sigcalc.panels.on_the_wall import PANELS, answer, asked
from tests.lessons.test_own_talk import ODD
from tests.lessons.test_talk import READY
from tests.plan.plans import FOLDER, LAYOUT


def own(path):
    return Talk.from_layout(Layout.load(path)) if path == LAYOUT else Talk.from_plan(Plan.load(path))


def told_apart(scene):
    """What may matter to a panel: settings without numbers, as the sliders' ends are tested for below.

    A diagnosis takes a moment, whatever LEDs and supply there are, so of its settings the names alone.
    """
    settings = [*scene.start.items(), *scene.answer.items()]
    if scene.panel == "your own signal":
        return scene.panel, *(name for name, _ in settings)
    return scene.panel, *(each for each in settings if isinstance(each[1], str | bool))


def played(scene):
    """What is on the wall before and after the answer of a scene; each is a picture, and no refusal."""
    panel = asked(scene)
    assert panel.picture is not None, panel.refusal
    before = panel.view.value
    answer(panel, scene)
    assert panel.picture is not None, panel.refusal
    return before, panel.view.value


@pytest.mark.parametrize("name", READY)
def test_each_answer_of_a_ready_talk_shows_something_else_than_its_question(name):
    for scene in READY[name].scene:
        before, after = played(scene)
        assert before != after


def test_talks_of_plans_and_layouts_can_be_played():
    made = [own(path) for path in sorted(FOLDER.glob("*.toml"))]
    made += [Talk.from_plan(Plan(**plan)) for plan, *_ in ODD.values()]
    scenes = {told_apart(each): each for talk in made for each in talk.scene}
    for scene in scenes.values():
        played(scene)


def test_the_last_scene_of_the_first_evening_leaves_one_fault():
    scene = READY["first_evening"].scene[-1]
    panel = asked(scene)
    answer(panel, scene)
    assert re.search(r"red LED open, 9\d %", re.sub("<[^>]+>", " ", panel.view.value), re.DOTALL)


def test_the_sliders_reach_as_far_as_a_talk_counts_on():
    for panel, controls in own_talk.REACH.items():
        made = PANELS[panel]()
        assert {name: (made[name].least, made[name].most) for name in controls} == controls
