"""The words of shapes are read strictly."""

from pathlib import Path

import pytest

from estate.assets import resource
from estate.errors import IntakeFault
from estate.intake.shape_words import shape_words

TEXT = resource("intake", "shapes.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (TEXT.replace("now = [", "then = [", 1), "missing or unknown"),
        (TEXT.replace("[places]", "[spots]", 1), "missing or unknown"),
        (TEXT.replace('site = ["site"', 'site = [7, "site"', 1), "no text"),
        (TEXT.replace("now = [", "now = 7\nnever = [", 1), "missing or unknown"),
        ("now = ", "shapes.toml"),
    ],
)
def test_that_damaged_words_are_refused(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "shapes.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(IntakeFault, match=said):
        shape_words(path)


def test_that_words_are_folded_and_missing_ones_a_fault(tmp_path: Path) -> None:
    words = shape_words()
    assert words.places["gebaude"] == "building"
    assert "resultats" in words.now
    with pytest.raises(IntakeFault, match=r"none\.toml"):
        shape_words(tmp_path / "none.toml")
