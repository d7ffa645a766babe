"""Cautions: each supply gets those that belong to it."""

import pytest

from sigcalc.errors import UnitError
from sigcalc.parts.caution import all_cautions, cautions
from sigcalc.parts.source import adapters, batteries


@pytest.mark.parametrize(
    ("source", "topics"),
    [
        (batteries["9 V alkaline"], {"short circuit", "charging"}),
        (batteries["9 V zinc-carbon"], {"short circuit", "charging", "leaking"}),
        (batteries["6 x AA alkaline"], {"charging"}),
        (batteries["8.4 V NiMH"], {"short circuit"}),
        (batteries["3 V coin cell"], {"charging", "children"}),
        (adapters["9 V unregulated"], {"unmarked", "joining", "first measurement"}),
    ],
    ids=lambda each: getattr(each, "name", ""),
)
def test_what_belongs_to_a_supply(source, topics):
    assert {each.topic for each in cautions(source)} == topics


def test_the_words_that_matter_are_there():
    said = {(each.about, each.topic): each.text for each in all_cautions()}
    assert "emergency" in said["coin cell", "children"]  # swallowed cells
    assert "pocket" in said["block battery", "short circuit"]  # NFPA: how to store 9 V batteries (knox.villagesoup.com)
    assert "mains" in said["adapter", "unmarked"]
    assert all(text.endswith(".") for text in said.values())


def test_anything_else_is_refused():
    with pytest.raises(UnitError, match="source needs"):
        cautions("9 V alkaline")
