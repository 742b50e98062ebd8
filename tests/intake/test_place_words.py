"""What the words for a place come to, in English, German and French."""

from pathlib import Path

import pytest

from estate.assets import resource
from estate.errors import IntakeFault
from estate.intake.place_words import NOTHING_TOLD, number_text, read_vocabulary, storey_alone, told

Counted = set[tuple[str, str]]


def counted(text: str, field: str = "") -> Counted:
    return {(number.of, number.text) for number in told(text, field).numbers}


@pytest.mark.parametrize(
    ("text", "words", "kinds", "numbers"),
    [
        ("Ward 3 bed 4 basin", ("ward", "bed"), {"basin"}, {("ward", "3"), ("bed", "4")}),
        ("wd3 WHB04", ("ward",), {"basin"}, {("ward", "3"), ("basin", "4")}),
        ("Bldg 2, en-suite shwr", ("ensuite",), {"shower"}, {("building", "2")}),
        ("Shower room G-010 shower no. 2", ("showerroom",), {"shower"}, {("", "g10"), ("shower", "2")}),
        ("Ward B bed 4a", ("ward", "bed"), set(), {("ward", "b"), ("bed", "4a")}),
        ("Room C, room 12", (), set(), {("", "c"), ("", "12")}),
        ("Zimmer 2.03 Waschbecken", (), {"basin"}, {("", "203")}),
        ("Bucht 1.4 Pflegebadewanne", ("bay", "assisted"), {"bath"}, {("bay", "1.4")}),
        ("salle de bain, baignoire", ("bathroom",), {"bath"}, set()),
        ("B4 Rosewood7", ("rosewood",), set(), {("", "b4"), ("rosewood", "7")}),
        ("floor", (), set(), set()),
    ],
)
def test_that_spellings_of_one_thing_become_one_word(
    text: str, words: tuple[str, ...], kinds: set[str], numbers: Counted
) -> None:
    found = told(text)
    assert (found.words, set(found.kinds), counted(text)) == (words, kinds, numbers)
    assert found.storeys == set()


@pytest.mark.parametrize(
    ("text", "storey"),
    [
        ("Main block GF", 0), ("1st floor bath", 1), ("first floor", 1), ("level 2", 2), ("floor 3 room", 3),
        ("2. OG", 2), ("OG 2", 2), ("1 UG", -1), ("EG", 0), ("RDC", 0), ("2ème étage", 2),
        ("lower ground floor", -0.5), ("3 floor", 3),
    ],
)  # fmt: skip
def test_that_storeys_are_told_from_other_numbers(text: str, storey: float) -> None:
    assert told(text).storeys == {storey}
    assert counted(text) == set()


def test_that_a_number_before_a_storey_is_left_to_its_own_word() -> None:
    assert counted("Ward 3 level 2 bay C") == {("ward", "3"), ("bay", "c")}
    assert told("Ward 3 level 2 bay C").storeys == {2}


@pytest.mark.parametrize(
    ("text", "storey"),
    [
        ("G", 0), ("Ground floor", 0), ("1", 1), ("-1", -1), ("+2", 2), ("Level 2", 2), ("LG", -0.5),
        ("third", 3), ("Rosewood floor", None), ("Ward 3", None), ("1234", None), ("Level 1, Level 2", None),
    ],
)  # fmt: skip
def test_that_a_column_of_storeys_tells_them_alone(text: str, storey: float | None) -> None:
    assert storey_alone(text) == storey
    assert told(text, "level").storeys == (told(text).storeys if storey is None else {storey})


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("G.03", {("", "g3")}), ("1-01", {("", "101")}), ("G03", {("", "g3")}), ("Bed 4", {("bed", "4")}),
        ("Room12", {("", "12")}), ("Rm7", {("", "7")}), ("Store", set()), ("012", {("", "12")}),
    ],
)  # fmt: skip
def test_that_a_rooms_number_is_read_without_punctuation(text: str, numbers: Counted) -> None:
    assert counted(text, "room_number") == numbers


def test_that_nothing_tells_nothing() -> None:
    assert told("") is told("  ", "room") is NOTHING_TOLD
    assert (told("Ward 3") | NOTHING_TOLD) == told("Ward 3")


def test_that_numbers_are_compared_without_leading_zeros() -> None:
    assert [number_text(each) for each in ("004", "g03", "1.03", "1.3", "0")] == [
        "4",
        "g3",
        "103",
        "1.3",
        "0",
    ]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda text: text.replace('ward = ["ward"', 'ward = ["shower"'), "“shower” stands for"),
        (lambda text: text.replace("[levels]", "[storeys_above]"), "levels"),
        (lambda text: text + "\n= 3", "places.toml"),
    ],
)
def test_that_a_damaged_file_of_words_is_told(tmp_path: Path, change: object, said: str) -> None:
    assert callable(change)
    path = tmp_path / "places.toml"
    path.write_text(change(resource("intake", "places.toml").read_text("utf-8")), encoding="utf-8")
    with pytest.raises(IntakeFault) as caught:
        read_vocabulary(path)
    assert said in caught.value.detail
    with pytest.raises(IntakeFault):
        read_vocabulary(tmp_path / "none.toml")
