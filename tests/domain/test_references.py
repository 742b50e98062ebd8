"""Keys by which references and levels are compared."""

import pytest

from estate.domain.references import level_key, reference_key


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("-1", "-1"), (" - 1 ", "-1"), ("\u22121", "-1"), ("\u201301", "-01"), ("Level -1", "-level1"),
        ("1", "1"), ("G-01", "g01"), ("Level 1", "level1"), ("L1 - 2nd wing", "l12ndwing"), ("1-2", "12"),
        ("-", ""), ("", ""), ("Basement", "basement"),
    ],
)  # fmt: skip
def test_that_a_minus_before_the_number_of_a_level_counts_and_a_dash_in_it_does_not(
    name: str, key: str
) -> None:
    assert level_key(name) == key


def test_that_a_dash_in_a_reference_only_parts_it() -> None:
    assert reference_key("MM-G-01/-1") == "mmg011"
