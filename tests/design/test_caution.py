"""Cautions: each supply gets those that belong to it."""

import pytest

from sigcalc.design.caution import all_cautions, cautions, work_cautions
from sigcalc.errors import UnitError
from sigcalc.parts.source import adapters, batteries

BELONGING = [
    (batteries["9 V alkaline"], {"short circuit", "posts", "charging", "leaking"}),
    (batteries["6 x AA alkaline"], {"short circuit", "charging", "leaking"}),
    (batteries["8.4 V NiMH"], {"short circuit", "posts", "charging"}),
    (batteries["3 V coin cell"], {"short circuit", "charging", "children"}),
    (adapters["9 V unregulated"], {"unmarked", "joining", "first measurement"}),
]


@pytest.mark.parametrize(("source", "topics"), BELONGING, ids=lambda each: getattr(each, "name", ""))
def test_what_belongs_to_a_supply(source, topics):
    assert {each.topic for each in cautions(source)} == topics


def test_anything_else_is_refused():
    with pytest.raises(UnitError, match="source needs"):
        cautions("9 V alkaline")


def test_the_words_that_matter_are_there():
    said = {(each.about, each.topic): each.text for each in all_cautions()}
    assert "emergency" in said["coin cell", "children"]  # swallowed cells
    assert "pocket" in said["rectangular battery", "posts"]  # NFPA: how to store 9 V batteries
    assert "charger made for" in said["rechargeable battery", "charging"]
    assert all(word in said["alkaline battery", "leaking"] for word in ("gloves", "eye protection", "15 minutes"))
    assert "3 to 60 times a second" in said["flashing lamp", "flashing"]
    assert "mains" in said["adapter", "unmarked"]
    assert all(text.endswith(".") for text in said.values())


def test_the_work_and_the_train_have_cautions_whatever_the_supply():
    supply = adapters["12 V regulated"]
    alone, with_train = ({each.topic for each in work_cautions(supply, train)} for train in (False, True))
    assert {"soldering", "soldering overhead", "sleeving", "eyes", "glue", "LED"} <= alone
    assert with_train - alone == {"magnets", "reed", "track power"}
