"""How values are written for a person."""

from datetime import date

import pytest

from estate.window import words
from estate.window.translating import tr_count
from tests.window.builders import NOW, TODAY, window


def test_that_a_date_is_written_with_its_month_in_letters() -> None:
    assert words.day(date(2026, 11, 25)) == "25 Nov 2026"
    assert words.day(date(2026, 3, 1)) == "1 Mar 2026"


def test_that_what_is_missing_is_a_dash_and_never_a_zero() -> None:
    assert words.day(None) == words.celsius(None) == words.number(None) == "–"
    assert words.celsius(0.0) == "0.0 °C"
    assert words.number(0.0, "ml/min") == "0 ml/min"


def test_that_a_moment_says_that_it_is_utc() -> None:
    assert words.moment(NOW) == "25 Nov 2026 09:00 UTC"


def test_that_an_answer_not_given_is_neither_yes_nor_no() -> None:
    assert [words.yes_no(each) for each in (None, True, False)] == ["not recorded", "yes", "no"]


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (-60, -10, "10 days late"),
        (-60, -1, "1 day late"),
        (-10, 0, "closes today"),
        (-10, 5, "open now, closes in 5 days"),
        (0, 1, "open now, closes in 1 day"),
        (7, 20, "opens in 7 days"),
    ],
)
def test_that_a_window_is_said_as_it_stands_to_today(before: int, after: int, said: str) -> None:
    assert words.how_soon(window(before, after), TODAY) == said


def test_that_a_point_inside_a_number_ends_no_sentence() -> None:
    first, rest = words.first_sentence("Left at 44.6 °C, ceiling 43.0 °C. Somebody could be hurt. Act.")
    assert first == "Left at 44.6 °C, ceiling 43.0 °C."
    assert rest == "Somebody could be hurt. Act."
    assert words.first_sentence("One only") == ("One only", "")


def test_that_a_long_list_says_how_many_it_leaves_out() -> None:
    assert words.listed(["a", "b", "c"], most=2) == "a, b and 1 more"
    assert words.listed(["a", "b"], most=2) == "a, b"


def test_that_one_and_many_are_told_apart() -> None:
    assert tr_count(1, "{n:,} outlet", "{n:,} outlets") == "1 outlet"
    assert tr_count(1204, "{n:,} outlet", "{n:,} outlets") == "1,204 outlets"
    assert tr_count(2, "{n:,} body, {where}", "{n:,} bodies, {where}", where="here") == "2 bodies, here"


def test_that_a_window_of_one_day_is_written_once() -> None:
    assert words.span(TODAY, TODAY) == "25 Nov 2026"
    assert words.span(date(2026, 11, 1), TODAY) == "1 Nov 2026 to 25 Nov 2026"
