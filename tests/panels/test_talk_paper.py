"""A talk's paper: each part is there, no answer goes home before it is shown, and nothing comes from outside."""

import html
import re
from functools import cache

import pytest

from sigcalc import Plan, PlanError, SigcalcError, Talk
from sigcalc.lessons.fault_round import secrets
from sigcalc.panels.on_the_wall import answer, asked
from sigcalc.panels.talk_paper import talk_paper
from tests.lessons.test_talk import READY
from tests.plan.plans import FOLDER

EVIL = '<script>alert("x")</script>'
HOSTILE = Talk(
    name=f"Mine {EVIL}",
    audience=EVIL,
    notes=[EVIL],
    scene=[
        {
            "name": EVIL,
            "panel": "why a resistor",
            "minutes": 2,
            "question": f"{EVIL} & 'what'?",
            "choices": ["<b>\"&'</b>", "</li></ol>"],
            "answer": {"no resistor": True},
            "because": EVIL,
            "say": EVIL,
            "bench": EVIL,
            "take_home": EVIL,
        }
    ],
    kit=[{"item": EVIL, "each": 2, "once": 1}],
)


@cache
def paper(name):
    talk = Talk.from_plan(Plan.load(FOLDER / "quillhaven_yard.toml")) if name == "own" else READY[name]
    return talk, talk_paper(talk)


def part(page, name):
    """The text of the sections of one class, without tags."""
    found = re.findall(rf'(?s)<section class="part {name}\b.*?</section>', page)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", " ".join(found))).split())


def plain(text):
    return " ".join(text.split())


def of_svg(page):
    return re.findall(r"(?s)<svg.*?</svg>", page)


@pytest.mark.parametrize("name", [*READY, "own"])
def test_every_part_says_what_it_is_for(name):
    talk, page = paper(name)
    run, handout, kit, answers = (part(page, each) for each in ("run", "handout", "kit", "answers"))
    for scene in talk.scene:
        assert all(plain(each) in run for each in (scene.name, scene.question, scene.say, scene.bench))
        assert all(plain(each) in answers for each in (scene.question, scene.because))
        assert all(each in handout for each in (scene.question, *scene.choices))
        assert scene.say not in handout + answers + kit
    assert all(each.take_home in handout for each in talk.scene if each.take_home)
    assert f"0:00 to {60 * talk.scene[0].minutes // 60:.0f}:" in run
    assert f"{talk.minutes:.0f}:00 {len(talk.scene)}." in run
    assert all(f"{line.item} {line.count}" in kit for line in talk.kit_list().lines)
    assert "Leave mains wiring to a licensed electrician" in handout
    assert "magnets from children" in handout or name != "passing_train"
    assert len(page) < 2e6


@pytest.mark.parametrize("name", ["first_evening"])
def test_no_answer_is_on_the_hand_out_and_the_panels_own_words_are_on_the_other_pages(name):
    talk, page = paper(name)
    handout = part(page, "handout")
    for scene in talk.scene:
        panel = asked(scene)
        answer(panel, scene)
        told = panel.picture.brief or panel.picture.sentence
        assert plain(told) in part(page, "run")
        assert plain(told) in part(page, "answers")
        assert plain(told) not in handout
        assert scene.because not in handout
    there = re.findall(r'(?s)<section class="part handout.*?</section>', page)
    assert [len(of_svg(each)) for each in there] == [0, 2]


@pytest.mark.parametrize("name", [*READY, "own"])
def test_every_scene_is_a_still_before_and_after_its_answer(name):
    talk, page = paper(name)
    stills = page.split('<section class="still ')[1:]
    assert len(stills) == 2 * len(talk.scene) + 2
    for number, scene in enumerate(talk.scene):
        before, after = stills[2 * number + 1 : 2 * number + 3]
        assert scene.question in html.unescape(before)
        assert scene.question in html.unescape(after)
        assert ("sigcalc-cover" in before) == bool({"verdict", "picture"} & {*scene.cover})
        assert "sigcalc-cover" not in after
        assert of_svg(after)


def test_nothing_comes_from_outside():
    for name in READY:
        page = paper(name)[1]
        assert not re.search(r"<(link|iframe|img|object|embed|base|form)\b|@import|\bsrc=", page)
        assert set(re.findall(r"url\([\"']?(#|data:|.{9})", page)) <= {"#", "data:"}
        assert set(re.findall(r"(?<=://)[\w.]+", page)) <= {"www.w3.org"}
        ids = re.findall(r'\bid="([^"]*)"', page)
        assert len(ids) == len(set(ids))


def test_a_stranger_s_words_are_words():
    page = talk_paper(HOSTILE)
    assert page.count("<script>") == 1
    assert "alert" not in page.split("<script>")[1]
    assert "&lt;script&gt;" in page
    assert "<b>\"&'</b>" not in page


def test_more_seats_need_more_parts_and_no_seats_are_refused():
    kit = part(talk_paper(HOSTILE, 30), "kit")
    assert "For 30 seats" in kit
    assert re.search(r"\b67 60 6 1\b", kit)
    with pytest.raises(SigcalcError, match="seats needs"):
        talk_paper(HOSTILE, 0)


def test_what_a_round_hides_is_on_the_answers_page_alone():
    game = {
        "name": "The game",
        "panel": "fault round",
        "minutes": 5,
        "question": "Who finds it?",
        "start": {"round": 2},
    }
    page = talk_paper(Talk(name="A game", scene=[game]))
    answers, others = part(page, "answers"), "".join(part(page, each) for each in ("run", "handout", "kit"))
    for secret in secrets(2):
        assert secret.fault in answers
        assert secret.remedy in answers
        assert all(f"{name}: {value}" in answers for name, value in secret.readings.items())
        assert secret.remedy not in others


def test_a_talk_with_faults_has_no_paper():
    scene = {"name": "One", "panel": "first lights", "minutes": 1, "question": "What?"}
    with pytest.raises(PlanError, match="first lights"):
        talk_paper(Talk(name="A", scene=[scene]))
