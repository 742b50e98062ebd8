"""How alike words and references are, and how rows and outlets are given to each other."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.intake.likeness import (
    MOST_TOGETHER,
    SHORTENED,
    SQUEEZED,
    NearReferences,
    WordLikeness,
    assign,
    look_alike_key,
)

WORDS = WordLikeness({"treatment", "bathroom", "rose", "ross", "female", "ward", "consulting"}, {"male"})


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("rose", {"rose": 1.0}),
        ("treat", {"treatment": SHORTENED}),
        ("trtmnt", {"treatment": SQUEEZED}),
        ("bathrom", {"bathroom": 1 - 1 / 8}),
        ("consultnig", {"consulting": 1 - 1 / 10}),
        ("wrad", {"ward": 1 - 1 / 4}),
        ("rosse", {}),
        ("male", {}),
        ("at", {}),
        ("xathroom", {"bathroom": 1 - 1 / 8}),
        ("xard", {}),
        ("fml", {"female": SQUEEZED}),
        ("bzq", {}),
        ("cns", {}),
    ],
)
def test_that_a_word_is_like_what_it_may_be_a_slip_or_an_abbreviation_of(
    written: str, found: dict[str, float]
) -> None:
    likes = WORDS.likes(written)
    assert likes == pytest.approx(found)
    assert WORDS.likes(written) is likes


def test_that_look_alike_letters_and_figures_have_one_key() -> None:
    assert look_alike_key("MM/G/GO1-WHBl") == look_alike_key("mm g g01 whbI") == "mmgg01whb1"


REFERENCES = NearReferences(["MB/G/G01/WHB1", "MB/G/G02/WHB1", "MB/G/G12/SHR1", "T-5"])


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("MB/G/G03/WHB1", ("MB/G/G01/WHB1", "MB/G/G02/WHB1")),
        ("MB/G/G0/WHB1", ("MB/G/G01/WHB1", "MB/G/G02/WHB1")),
        ("MB/G/G011/WHB1", ("MB/G/G01/WHB1",)),
        ("MB/G/G10/WHB1", ("MB/G/G01/WHB1",)),
        ("MB/G/G01/WHB1", ("MB/G/G02/WHB1",)),
        ("MB/G/G12/XYZ1", ()),
        ("--", ()),
    ],
)
def test_that_references_one_slip_away_are_found(written: str, found: tuple[str, ...]) -> None:
    assert REFERENCES.one_slip_away(written) == found


def test_that_smudged_letters_are_enough_to_suggest() -> None:
    assert REFERENCES.smudged("M8/G/GO1/WHBI") == ("MB/G/G01/WHB1",)
    assert REFERENCES.smudged("T-S") == ("T-5",)
    assert REFERENCES.smudged("T-9") == ()


def test_that_the_nearest_references_come_likeliest_first() -> None:
    assert REFERENCES.nearest("MB/G/G01/WHB1X9") == ("MB/G/G01/WHB1", "MB/G/G02/WHB1")
    assert REFERENCES.nearest("MB/G/G01/WHB1X9", most=1) == ("MB/G/G01/WHB1",)
    assert REFERENCES.nearest("WE/1/108/BTH2") == ()


def test_that_the_whole_is_assigned_better_than_row_by_row() -> None:
    assert assign({(0, 0): 1.0, (0, 1): 0.9, (1, 0): 0.9}) == {0: 1, 1: 0}


def test_that_a_row_too_many_gets_nothing() -> None:
    assert assign({(0, 5): 1.0, (1, 5): 0.8}) == {0: 5}
    assert assign({}) == {}


def test_that_rows_that_have_nothing_to_do_with_each_other_are_settled_apart() -> None:
    chain = {(row, outlet): 1.0 for row in range(4) for outlet in (row, row + 1)}
    assert set(assign(chain)) == {0, 1, 2, 3}
    far = {(row + 10, outlet + 10): likeness for (row, outlet), likeness in chain.items()}
    assert assign(chain | far).keys() == {0, 1, 2, 3, 10, 11, 12, 13}


def test_that_too_many_rows_for_one_another_are_left_to_a_person() -> None:
    many = {(row, outlet): 1.0 for row in range(MOST_TOGETHER + 1) for outlet in (0, 1)}
    assert assign(many | {(5000, 5000): 0.9}) == {5000: 5000}


@given(
    st.dictionaries(
        st.tuples(st.integers(0, 3), st.integers(0, 3)), st.sampled_from([0.5, 0.7, 0.8, 0.95, 1.0])
    )
)
def test_that_no_other_way_of_giving_is_better_as_a_whole(scores: dict[tuple[int, int], float]) -> None:
    given_out = assign(scores)
    assert len(set(given_out.values())) == len(given_out)
    best = max(
        sum(scores.get((row, outlet), 0.0) for row, outlet in enumerate(order))
        for order in permutations(range(4))
    )
    assert sum(scores[pair] for pair in given_out.items()) == pytest.approx(best)
