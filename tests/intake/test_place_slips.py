"""Slips in the words of a place are put right only where one known phrase alone can be meant."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.intake.likeness import INITIAL, WordLikeness, one_slip_apart
from estate.intake.place_slips import slips_of
from estate.intake.place_words import storey_alone, told, vocabulary


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("W.H.B.", "basin"),
        ("W..HB.", "basin"),
        ("Handbaisn", "basin"),
        ("Bsain", "basin"),
        ("Wsahbasin", "basin"),
        ("Bidt", "bidet"),
        ("Sohwer", "shower"),
    ],
)
def test_that_a_misspelt_outlet_is_what_it_means(text: str, kind: str) -> None:
    assert told(text, "outlet").kinds == {kind}
    assert {number.text for number in told(f"{text} 2", "outlet").numbers} == {"2"}


@pytest.mark.parametrize("text", ["Urinal", "Tap", "Bth7x", "Sluice hopper", "Bed 4 bsain"])
def test_that_what_is_near_no_phrase_stays_as_it_was_written(text: str) -> None:
    mended = vocabulary().slips.mended(text.casefold(), "outlet")
    assert mended == text.casefold()


def test_that_a_space_in_the_wrong_spot_parts_no_word() -> None:
    assert told("ShwrR oom", "room").words == ("showerroom",)
    assert told("ShwrR oom", "building").words != ("showerroom",)


def test_that_letters_near_two_things_stand_for_neither() -> None:
    slips = slips_of([("bata", ("one",)), ("batb", ("two",)), ("w 1", ("three",))])
    assert slips.mended("batc", "room") == "batc"
    assert slips.mended("bata", "room") == "one"
    assert set(slips.phrases) == {"bata", "batb"}


@pytest.mark.parametrize(
    ("text", "storey"), [("FF", 1), ("1st", 1), ("First", 1), ("2nd", 2), ("G", 0), ("1er", 1)]
)
def test_that_a_storey_may_stand_for_itself(text: str, storey: float) -> None:
    assert storey_alone(text) == storey


def test_that_an_initial_with_a_point_is_any_word_that_begins_so() -> None:
    likes = WordLikeness({"main", "mill", "day"}).likes("m.")
    assert likes == {"main": INITIAL, "mill": INITIAL}
    assert told("M. Block", "building").words == ("m.", "block")


@given(st.sampled_from(sorted(vocabulary().slips.phrases)))
def test_that_a_known_phrase_stands_for_what_it_says(letters: str) -> None:
    meaning = vocabulary().slips.phrases[letters]
    assert told(letters, "outlet") == told(" ".join(meaning), "outlet") or len(letters) < 4


def test_that_one_slip_is_one_letter_or_two_neighbours_swapped() -> None:
    assert one_slip_apart("basin", "bsain")
    assert one_slip_apart("basin", "basi")
    assert not one_slip_apart("basin", "basin")
    assert not one_slip_apart("basin", "bsian")
