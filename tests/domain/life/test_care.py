from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from estate.domain.life.care import (
    Care,
    CareAsked,
    CareDraft,
    CareKind,
    CareLine,
    Intervals,
    Review,
    ReviewDraft,
    care_lines,
    months_after,
)
from estate.domain.places import Use
from tests.builders import outlet

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
TODAY = date(2026, 11, 25)
EVERY = Intervals(7, "weekly", 3, "quarterly", 12, "yearly")


def care(number: int, kind: CareKind, on: date, withdrawn: str = "") -> Care:
    return Care(number, CareDraft(1, kind, on), "A. Officer", NOW, withdrawn)


def review(number: int, on: date, needed: bool = True, withdrawn: str = "") -> Review:
    draft = ReviewDraft(1, on, "the water safety group", needed, "staff only")
    return Review(number, draft, "A. Officer", NOW, withdrawn)


def line(lines: tuple[CareLine, ...], asked: CareAsked) -> CareLine:
    (found,) = [each for each in lines if each.asked is asked]
    return found


def test_that_a_basin_in_daily_use_is_only_asked_for_anew() -> None:
    assert [each.asked for each in care_lines(outlet(), (), (), EVERY)] == [CareAsked.REVIEW]


def test_that_what_is_not_on_record_is_due_and_not_late() -> None:
    (asked,) = care_lines(outlet(), (), (), EVERY)
    assert (asked.last, asked.due_on, asked.due(TODAY), asked.days_late(TODAY)) == (None, None, True, 0)


def test_that_a_little_used_outlet_is_flushed_a_week_after_the_last_flush_that_counts() -> None:
    done = [
        care(1, CareKind.FLUSHED, date(2026, 11, 10)),
        care(2, CareKind.FLUSHED, date(2026, 11, 17)),
        care(3, CareKind.FLUSHED, date(2026, 11, 24), withdrawn="another outlet"),
        care(4, CareKind.DISINFECTED, date(2026, 11, 25)),
    ]
    flush = line(care_lines(outlet(little_used=True), done, (), EVERY), CareAsked.FLUSHING)
    assert (flush.last, flush.due_on, flush.source) == (date(2026, 11, 17), date(2026, 11, 24), "weekly")
    assert flush.days_late(TODAY) == 1


def test_that_an_outlet_out_of_use_is_flushed_like_a_little_used_one() -> None:
    asked = [each.asked for each in care_lines(outlet(), (), (), EVERY, stands=True)]
    assert asked == [CareAsked.FLUSHING, CareAsked.REVIEW]


def test_that_a_shower_head_is_cleaned_every_three_months() -> None:
    done = [care(1, CareKind.SHOWER_HEAD, date(2026, 8, 31))]
    cleaned = line(care_lines(outlet(Use.SHOWER), done, (), EVERY), CareAsked.SHOWER_HEAD)
    assert (cleaned.due_on, cleaned.due(TODAY)) == (date(2026, 11, 30), False)


def test_that_the_latest_review_that_counts_says_whether_the_valve_is_needed() -> None:
    said = [
        review(1, date(2025, 11, 1)),
        review(2, date(2026, 11, 1), needed=False),
        review(3, date(2026, 11, 20), withdrawn="another outlet"),
    ]
    asked = line(care_lines(outlet(), (), said, EVERY), CareAsked.REVIEW)
    assert (asked.last, asked.due_on) == (date(2026, 11, 1), date(2027, 11, 1))
    assert asked.words == "Not needed, said the water safety group: staff only"
    assert line(care_lines(outlet(), (), said[:1], EVERY), CareAsked.REVIEW).words == ""


@pytest.mark.parametrize(
    ("day", "months", "then"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2026, 11, 30), 3, date(2027, 2, 28)),
        (date(2026, 12, 5), 12, date(2027, 12, 5)),
        (date(2026, 9, 30), 3, date(2026, 12, 30)),
    ],
)
def test_that_months_later_is_the_same_day_or_the_last_of_the_month(
    day: date, months: int, then: date
) -> None:
    assert months_after(day, months) == then


def test_that_what_has_no_interval_is_due_whenever_it_was_done() -> None:
    blank = replace(EVERY, flushing_days=None, shower_months=None, review_months=None)
    done = [care(1, CareKind.FLUSHED, TODAY), care(2, CareKind.SHOWER_HEAD, TODAY)]
    lines = care_lines(outlet(little_used=True, use=Use.SHOWER), done, [review(1, TODAY)], blank)
    assert [(each.last, each.due_on, each.due(TODAY)) for each in lines] == [(TODAY, None, True)] * 3
