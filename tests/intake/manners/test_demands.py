"""What the reading of sheets is held to, over every manner: most is taken rightly, nothing wrongly.

Seeds that the readers were not made by; python -m tests.benchmarks.sheets_read tries any number of others.
"""

from collections.abc import Iterator, Mapping

import pytest

from estate.operations.register import Register
from tests.intake.manners.demands import LEAST, kept_scores, scores, told_otherwise, total, wrongly_taken
from tests.intake.manners.scoring import registers

SEEDS = (601,)


@pytest.fixture(scope="module")
def held() -> Iterator[Mapping[str, Register]]:
    with registers() as found:
        yield found


def test_that_nothing_is_taken_wrongly_and_most_is_taken_unasked(held: Mapping[str, Register]) -> None:
    found = scores(held, SEEDS)
    assert wrongly_taken(found) == []
    assert total(found).share >= LEAST


def test_that_sheets_saved_by_other_programs_are_read_as_well(held: Mapping[str, Register]) -> None:
    found = kept_scores(held)
    assert wrongly_taken(found) == []
    assert total(found).share >= LEAST


def test_that_a_round_told_in_ten_ways_is_the_same_round(held: Mapping[str, Register]) -> None:
    assert told_otherwise(held, SEEDS) == []
