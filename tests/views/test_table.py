"""The small table: a caption, heads, rows named by their first cell, nothing taken for markup."""

from xml.etree import ElementTree

from sigcalc.views.style import LARGE
from sigcalc.views.table import Table
from sigcalc.views.which_resistor import colour_numbers
from tests.views.svg import SVG


def test_cells_stand_under_their_heads_and_the_first_names_the_row():
    cells = [("source", "9 V"), ("LED", "1.9 V, 5 % of 12 volts")]
    table = ElementTree.fromstring(Table("Readings", ("Measure", "Should read"), cells, "Fresh.").html())
    rows = [[each.text for each in row] for row in table.iter("tr")]
    assert rows == [["Measure", "Should read"], ["source", "9\u00a0V"], ["LED", "1.9\u00a0V, 5\u00a0% of 12 volts"]]
    assert [each.get("scope") for each in table.iter("th")] == ["col", "col", "row", "row"]
    assert table.find(".//caption").text == "Readings"
    assert table.find("p").text == "Fresh."


def test_all_text_is_escaped_and_large_type_is_large():
    page = Table("<b>", ("<b>",), [("<b>&",)], "<b>", LARGE)._repr_html_()
    assert "<b>" not in page
    assert "font-size:18pt" in page


def test_folded_its_caption_unfolds_the_table_with_its_sentence():
    folded = ElementTree.fromstring(Table("Readings", ("What",), [("a",)], "Fresh.", folded=True).html()).find(
        "details"
    )
    assert [each.tag for each in folded] == ["summary", "table", "p"]
    assert folded.find("summary").text == "Readings"
    assert folded.find(".//caption") is None


def test_a_picture_in_a_cell_is_drawn_there_with_its_text_alternative():
    cell = ElementTree.fromstring(Table("Signs", ("word", "sign"), [("rings", colour_numbers())]).html()).find(".//td")
    assert cell.find(f"div/{SVG}svg").get("aria-label").startswith("Digits: black 0")
