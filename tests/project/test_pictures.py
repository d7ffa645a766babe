"""The pictures kept as files are what the library draws today."""

from tests.project.make_pictures import FOLDER, pictures


def test_the_kept_pictures_are_the_librarys():
    made = pictures()
    kept = {file.name: file.read_text(encoding="utf-8") for file in FOLDER.iterdir()}
    assert kept == made, "run: python -m tests.project.make_pictures"
