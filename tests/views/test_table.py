"""The small table: a caption, heads, rows named by their first cell, nothing taken for markup."""

from xml.etree import ElementTree

from sigcalc.views.style import LARGE
from sigcalc.views.table import Table


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
