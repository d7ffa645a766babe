"""The resistor's bands: order, words and letters."""

import pytest

from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.marking import colour_figures
from sigcalc.views.which_resistor import colour_band_picture, colour_numbers
from tests.views.svg import SVG, by_words, groups

# IEC 60757 letter codes; from memory
LETTERS = {
    "black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN", "blue": "BU",
    "violet": "VT", "grey": "GY", "white": "WH", "pink": "PK", "gold": "GD", "silver": "SR",
}  # fmt: skip


BANDS = "brown black red", "green blue gold", "orange white pink silver grey", "yellow violet black black brown red"


@pytest.mark.parametrize("bands", BANDS)
def test_bands_lie_in_order_with_word_and_letters(bands):
    bands = tuple(bands.split())
    picture = colour_band_picture(bands, "a resistor")
    drawn = groups(picture, "band ")
    assert [each.get("class") for each in drawn] == [f"band {name}" for name in bands]
    places = [float(next(each.iter(SVG + "rect")).get("x")) for each in drawn]
    assert places == sorted(places)
    assert len(bands) == 3 or places[1] - places[0] < places[-1] - places[-2]  # read from the closer ones
    assert [each[2].text for each in drawn] == [LETTERS[name] for name in bands]
    assert [each[3].text for each in drawn] == list(bands)
    assert f"the bands are {', '.join(bands)}," in picture.sentence
    assert by_words(picture, "a resistor").top < 40
    assert colour_band_picture(bands).sentence.startswith(f"The bands are {', '.join(bands)}")


def test_other_bands_are_refused():
    for error, said, bands in (
        (RangeError, "you gave 2", ("red", "red")),
        (RangeError, "you gave 1", "red"),
        (UnknownNameError, "'mauve'", ("red", "mauve", "red", "gold")),
    ):
        with pytest.raises(error, match=said):
            colour_band_picture(bands)


def test_each_colour_has_its_row_with_letters_word_and_what_it_means():
    picture = colour_numbers()
    rows = {
        each.get("class").removeprefix("colour "): [text.text for text in each.iter(SVG + "text")]
        for each in groups(picture, "colour ")
    }
    assert {name: row[:2] for name, row in rows.items()} == {name: [LETTERS[name], name] for name in LETTERS}
    # Kuphaldt, Lessons in Electric Circuits vol. V, ch. 2 Color Codes
    counted = ["black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"]
    assert [rows[name][2] for name in counted] == [str(digit) for digit in range(10)]
    assert [rows[name][3] for name in ("black", "orange", "blue", "gold")] == ["× 1", "× 1k", "× 1M", "× 0.1"]
    assert {name: rows[name][-1] for name in ("brown", "red", "gold", "silver")} == {
        "brown": "± 1 %", "red": "± 2 %", "gold": "± 5 %", "silver": "± 10 %"
    }  # fmt: skip
    said = ", ".join(f"{name} {digit}" for digit, name in enumerate(counted))
    assert picture.sentence.startswith(
        f"Digits: {said}. As multiplier a colour adds as many zeros as its digit says; gold"
    )
    assert "no band 20 %" in picture.sentence
    powers, digits = colour_figures("power"), colour_figures("digit")
    assert {name: power for name, power in powers.items() if power >= 0} == digits  # so that the zeros are right
