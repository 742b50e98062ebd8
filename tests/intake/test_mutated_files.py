"""Spoilt files meet the real reader; ten thousand of them do in tests/benchmarks/mutated_files.py."""

from pathlib import Path

import pytest

from tests.benchmarks.mutated_files import ENDED, READ, SLOW, meet, met
from tests.intake.mutations import ORIGINALS, spoilt

FILES = 300


def test_that_spoilt_files_are_read_or_refused(tmp_path: Path) -> None:
    outcomes = {meet(tmp_path, number, seed=4).outcome for number in range(FILES)}
    assert READ in outcomes
    assert all(outcome == READ or outcome.startswith("refused: ") for outcome in outcomes)
    assert len(outcomes) > 3


def test_that_spoilt_files_are_bounded_in_memory_and_time() -> None:
    found = list(met(range(40), seed=5, memory_bytes=1_000_000_000, seconds=5))
    assert [each.number for each in found] == list(range(40))
    assert not {each.outcome for each in found} & {ENDED, SLOW}


def test_that_a_file_that_ends_the_process_is_told_and_the_next_one_met() -> None:
    found = list(met(range(2), seed=5, memory_bytes=1, seconds=5))
    assert [(each.number, each.outcome) for each in found] == [(0, ENDED), (1, ENDED)]


def test_that_a_file_that_takes_too_long_is_told_and_the_next_one_met() -> None:
    found = list(met(range(2), seed=5, memory_bytes=1_000_000_000, seconds=0))
    assert [(each.number, each.outcome) for each in found] == [(0, SLOW), (1, SLOW)]


@pytest.mark.parametrize("number", range(20))
def test_that_a_number_always_gives_the_same_file(number: int) -> None:
    name, content = spoilt(number, seed=6)
    assert spoilt(number, seed=6) == (name, content)
    assert content != next(each for each in ORIGINALS if name.startswith(each.stem)).read_bytes()
