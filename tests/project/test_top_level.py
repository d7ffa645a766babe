"""The top level stays short: what is committed there is what the readers are promised."""

import pytest

from tests.project.checkout import committed_names, is_checkout

TEXTS = {"README.md", "DEVELOPERS.md", "LICENSE", "environment.yml", "pyproject.toml"}
FOLDERS = {"notebooks", "sigcalc", "tests"}


@pytest.mark.skipif(not is_checkout(), reason="not a git checkout")
def test_top_level_holds_what_was_promised_and_nothing_else():
    names = {path.partition("/")[0] for path in committed_names()}
    assert {name for name in names if not name.startswith(".")} == TEXTS | FOLDERS
