"""Things and their symbols: each is there in both ways, above its name."""

from sigcalc.views.scene.symbols import things_and_symbols
from tests.views.svg import by_words, groups


def test_each_thing_stands_above_its_symbol_and_its_name():
    picture = things_and_symbols()
    names = ["battery", "resistor", "LED", "wire"]
    assert [each.get("class") for each in groups(picture, "symbol ")] == [f"symbol {name}" for name in names]
    assert all(groups(picture, f"thing {thing}") for thing in ("battery_9v", "resistor", "led"))
    places = [by_words(picture, name).left for name in names]
    assert places == sorted(places)
    looks, drawn = (by_words(picture, words).top for words in ("as it looks", "as it is drawn"))
    assert looks < drawn < by_words(picture, "LED").top
    assert by_words(picture, "long, +").left < by_words(picture, "short, −").left
