"""The layout's panel in process: study with progress, faults, the sheet; nothing stale is left standing."""

import shutil

import pytest

from sigcalc.panels import layout as module
from sigcalc.panels.layout import LayoutPanel
from tests.plan.plans import FOLDER


@pytest.fixture
def panel(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "plans")
    monkeypatch.chdir(tmp_path)
    return LayoutPanel()


def test_it_begins_with_the_layout_beside_the_lessons(panel):
    assert panel.layout_file.value == "plans/quillhaven_layout.toml"
    assert len(panel.study.signals) == 8
    assert "8 signals; the weakest lamp is" in panel.headline.value
    assert "<svg" in panel.board.value
    assert panel.signals.value.count("full light") == 16
    assert "80 % is asked for" in panel.findings.value
    assert "breaks easily" not in panel.findings.value  # its own wire is none of the thin
    assert "twin wire of the feeder" in panel.parts.value
    assert panel.progress.layout.visibility == "hidden"


def test_the_lamps_called_for_change_the_board(panel):
    red = panel.board.value
    panel.lit.value = "green"
    assert panel.board.value != red
    panel.large.value = True
    assert "sigcalc-large" in panel._dom_classes


def test_progress_is_shown_and_taken_away_again(panel, monkeypatch):
    monkeypatch.setattr(module, "_PATIENCE", -1)
    seen = []
    panel.progress.observe(lambda change: seen.append((change["new"], panel.progress.layout.visibility)), names="value")
    panel.progress.value = 0
    panel.button.click()
    assert [value for value, _ in seen] == sorted(value for value, _ in seen)
    assert {shown for _, shown in seen[1:]} == {"visible"}
    assert panel.progress.value == panel.progress.max
    assert panel.progress.layout.visibility == "hidden"


def test_faults_are_named_all_at_once_and_nothing_stale_stays(panel, tmp_path):
    bad = tmp_path / "plans" / "bad_layout.toml"
    bad.write_text('version = 1\n[[signals]]\nname = "<b>"\nat = "x"\nplan = "missing.toml"\n', encoding="utf-8")
    panel.layout_file.value = str(bad)
    assert panel.study is None
    for view in (panel.board, panel.signals, panel.findings, panel.parts):
        assert view.value == ""
    assert "This layout cannot be studied yet" in panel.headline.value
    assert 'role="alert"' in panel.headline.value
    for place in (", at: no run goes to", ", plan missing.toml"):
        assert place in panel.headline.value
    panel.layout_file.value = "plans/quillhaven_layout.toml"
    assert panel.study is not None


def test_no_file_and_no_name(panel):
    for name in ("plans/none.toml", " "):
        panel.layout_file.value = name
        assert "layout file" in panel.headline.value or "cannot be read" in panel.headline.value


def test_a_circuit_that_cannot_light_is_an_answer(panel, tmp_path):
    dark = tmp_path / "dark.toml"
    dark.write_text(
        'version = 1\n[supply]\nvoltage = "1.2 V"\nmax_current = "1 A"\n[[signals]]\nname = "a"\nat = "supply"\n',
        encoding="utf-8",
    )
    panel.layout_file.value = str(dark)
    assert "signal &#x27;a&#x27;" in panel.headline.value


def test_a_defect_is_shown_and_raised(panel, monkeypatch):
    def broken(_):
        raise ZeroDivisionError("boom")

    monkeypatch.setattr(module.Layout, "load", broken)
    with pytest.raises(ZeroDivisionError):
        panel.redraw()
    assert "report it" in panel.headline.value
    assert panel.board.value == ""


def test_the_sheet_is_saved_and_no_file_is_replaced_unasked(panel, tmp_path):
    panel._tell()
    sheet = tmp_path / "my_plans" / "my_layout.html"
    assert sheet.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert "Download my_layout.html" in panel.told.value
    assert f"It is the sheet of {panel.layout_file.value} as last studied." in panel.told.value
    other = tmp_path / "my_plans" / "other.html"
    other.write_text("mine", encoding="utf-8")
    panel.path.value = "my_plans/other.toml"
    panel._tell()
    assert 'role="alert"' in panel.told.value
    assert other.read_text(encoding="utf-8") == "mine"
    panel.replace.value = True
    panel._tell()
    assert other.read_text(encoding="utf-8") != "mine"


def test_nothing_is_written_of_a_layout_with_faults(panel, tmp_path):
    panel.layout_file.value = "plans/none.toml"
    panel._tell()
    assert "mend them first" in panel.told.value
    assert not (tmp_path / "my_plans").exists()
