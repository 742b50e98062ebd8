from datetime import date

import pytest

from estate.domain.dates import day_words
from estate.domain.findings import Verdict
from estate.domain.standing import OutletState
from estate.reports.document import Mark
from estate.reports.wording import (
    CAUTIONS,
    counted,
    share_down,
    share_words,
    state_words,
    verdict_words,
)


def test_that_a_day_is_written_the_same_in_every_locale() -> None:
    assert day_words(date(2026, 11, 25)) == "25 Nov 2026"
    assert day_words(date(2027, 3, 1)) == "1 Mar 2027"


@pytest.mark.parametrize(
    ("part", "of", "words"),
    [
        (241, 300, "241 of 300 valves (80.3 %)"),
        (300, 300, "300 of 300 valves (100.0 %)"),
        (0, 300, "0 of 300 valves (0.0 %)"),
        (4999, 5000, "4,999 of 5,000 valves (99.9 %)"),
        (0, 0, "0 of 0 valves"),
    ],
)
def test_that_a_share_never_stands_without_its_counts(part: int, of: int, words: str) -> None:
    assert share_words(part, of, "valves") == words


def test_that_only_a_full_count_reads_a_hundred_per_cent() -> None:
    assert share_down(99_999, 100_000) == 0.999
    assert share_down(7, 7) == 1.0
    assert share_down(0, 0) is None


def test_that_one_is_singular() -> None:
    assert [counted(number, "valve") for number in (0, 1, 5000)] == ["0 valves", "1 valve", "5,000 valves"]
    assert counted(2, "body", "bodies") == "2 bodies"


def test_that_a_valve_without_a_test_is_never_shown_as_good() -> None:
    assert (verdict_words(None).words, verdict_words(None).mark) == ("never tested", Mark.UNKNOWN)
    assert verdict_words(Verdict.NOT_TESTED).mark is not Mark.GOOD
    assert state_words(OutletState.NEVER_TESTED).mark is not Mark.GOOD
    assert state_words(OutletState.NOT_TESTED).mark is not Mark.GOOD


def test_that_every_verdict_and_state_has_a_word_and_a_shape() -> None:
    assert all(verdict_words(each).words == each.value for each in Verdict)
    assert all(state_words(each).words == each.value for each in OutletState)


def test_that_states_which_ask_for_action_do_not_share_a_shape_with_one_that_does_not() -> None:
    acting = {state_words(each).mark for each in OutletState if each.needs_attention}
    calm = {
        state_words(each).mark for each in (OutletState.IN_ORDER, OutletState.WATCH, OutletState.OPEN_NOW)
    }
    assert acting.isdisjoint(calm)


def test_that_the_cautions_name_scald_isolation_hygiene_and_who_comes_first() -> None:
    words = " ".join(f"{each.about} {each.words}".casefold() for each in CAUTIONS)
    for needed in (
        "scald",
        "isolation",
        "hygiene",
        "local codes",
        "maker's instructions",
        "risk assessment",
        "competent",
    ):
        assert needed in words
