"""The course that the chart shows: intervals against values worked out by hand, axes, ticks."""

from dataclasses import replace
from datetime import date, timedelta
from math import sqrt

import pytest

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.valves import Fitting
from estate.domain.visits import Readings, Standing
from estate.window.models.chart_axes import Axes, Range, range_of, ticks_c, ticks_days
from estate.window.models.drift_course import course_of, fan_end, foreseen, on_day
from tests.window import builders
from tests.window.builders import TODAY, drift, history_line, learned, page, window


def read(number: int, ago: int, found: float | None, left: float | None, **fields: object) -> HistoryLine:
    line = history_line(number, ago, **fields)
    readings = Readings(found_c=found, left_c=left)
    return replace(line, visit=replace(line.visit, draft=replace(line.visit.draft, readings=readings)))


def with_fan(**fields: object) -> OutletPage:
    return page(**{"learned": learned(), "window": window(20, 70), **fields})


def test_that_the_fan_is_the_published_variance() -> None:
    # 0.2² + 2·10·0.0002 + 10²·0.005² + 0.05²·10 = 0.04 + 0.004 + 0.0025 + 0.025
    after = foreseen(drift(), 0.05, TODAY)
    assert after.mean_c == pytest.approx(41.5 + 10 * 0.02)
    assert after.sd_k == pytest.approx(sqrt(0.0715))
    assert after.between(1.96) == pytest.approx((41.7 - 0.524091, 41.7 + 0.524091), abs=1e-5)
    begin = foreseen(drift(), 0.05, drift().at)
    assert (begin.mean_c, begin.sd_k) == pytest.approx((41.5, 0.2))


def test_that_the_fan_runs_from_the_last_visit_to_the_windows_last_day() -> None:
    course = course_of(with_fan(), TODAY, chance=0.03)
    assert course.fan[0].on == drift().at
    assert course.fan[-1].on == course.window_ends == TODAY + timedelta(days=70)
    assert course.fan[-1].sd_k == pytest.approx(sqrt(0.04 + 2 * 20 * 0.0002 + 400 * 0.000025 + 0.0025 * 20))
    assert all(one.sd_k < other.sd_k for one, other in zip(course.fan, course.fan[1:], strict=False))


def test_that_the_fan_goes_on_to_today_where_the_window_has_passed() -> None:
    late = with_fan(window=window(-60, -10))
    assert fan_end(late, TODAY) == TODAY
    assert course_of(late, TODAY).fan[-1].on == TODAY
    assert course_of(late, TODAY).window_ends == TODAY - timedelta(days=10)


@pytest.mark.parametrize(
    "fields",
    [
        {"learned": None},
        {"learned": learned(drift=None)},
        {"window": None},
        {"learned": learned(drift=drift(0)), "window": window(-20, 0)},
    ],
)
def test_that_without_knowledge_or_time_there_is_no_fan(fields: dict[str, object]) -> None:
    course = course_of(with_fan(**fields), TODAY)
    assert course.fan == ()
    assert on_day(course, TODAY) is None


def test_that_a_day_between_two_steps_lies_between_them() -> None:
    course = course_of(with_fan(window=window(20, 400)), TODAY)
    one, other = course.fan[10:12]
    between = on_day(course, one.on + (other.on - one.on) / 2)
    assert between is not None
    exact = foreseen(drift(), builders.GROUP.sigma, between.on)
    assert between.mean_c == pytest.approx(exact.mean_c)
    assert between.sd_k == pytest.approx(exact.sd_k, abs=1e-3)
    assert on_day(course, course.fan[0].on - timedelta(days=1)) is None
    assert on_day(course, course.fan[-1].on + timedelta(days=1)) is None


def test_that_entries_stand_in_time_and_those_without_a_temperature_are_left_out() -> None:
    lines = (
        read(4, 50, 42.0, 41.0),
        read(3, 100, None, None),
        read(2, 200, 41.5, None),
        read(1, 300, None, 41),
    )
    course = course_of(page(history=lines), TODAY)
    assert [stop.line.visit.id for stop in course.stops] == [1, 2, 4]
    assert [stop.values for stop in course.stops] == [(41,), (41.5,), (42.0, 41.0)]
    assert [stop.reset for stop in course.stops] == [True, False, True]


def test_that_a_level_runs_over_entries_that_count_and_over_one_body_only() -> None:
    other = replace(builders.VALVE, id=2)
    lines = (
        replace(read(4, 50, 41.0, 41.0), valve=other),
        read(3, 100, 41.8, 41.8),
        read(2, 200, 50.0, 50.0, standing=Standing.VOID, void_reason="slip"),
        read(1, 300, 41.2, 41.2),
    )
    levels = course_of(page(history=lines), TODAY).levels
    assert [(one.line.visit.id, two.line.visit.id) for one, two in levels] == [(1, 3)]


def test_that_each_body_after_the_first_is_marked() -> None:
    first, second = Fitting(1, 1, date(2020, 3, 1), date(2024, 3, 1)), Fitting(2, 1, date(2024, 3, 1))
    bodies = ((second, builders.VALVE), (first, builders.VALVE))
    assert [on for on, _ in course_of(page(fittings=bodies), TODAY).bodies] == [date(2024, 3, 1)]
    unknown = ((second, builders.VALVE), (replace(first, fitted_on=None), builders.VALVE))
    assert [on for on, _ in course_of(page(fittings=unknown), TODAY).bodies] == [date(2024, 3, 1)]
    assert course_of(page(), TODAY).bodies == ()


def test_that_everything_shown_lies_inside_the_axes() -> None:
    course = course_of(with_fan(), TODAY)
    shown = range_of(course)
    assert shown.first < course.stops[0].on
    assert shown.last > course.fan[-1].on
    low, high = course.fan[-1].between(1.96)
    assert shown.low_c < min(low, 41.0)
    assert shown.high_c > max(high, 43.0)


def test_that_a_slip_of_the_pen_does_not_squash_the_chart() -> None:
    slip = read(9, 150, 4.14, 414.0)
    shown = range_of(course_of(page(history=(slip, *page().history)), TODAY))
    assert shown.low_c > 35
    assert shown.high_c < 50


@pytest.mark.parametrize("history", [(), (history_line(1, 40),)], ids=["none", "one"])
@pytest.mark.parametrize("limits", [{}, {"ceiling_c": None, "set_c": None}], ids=["limits", "no limits"])
def test_that_axes_have_room_even_with_next_to_nothing(
    history: tuple[HistoryLine, ...], limits: dict[str, None]
) -> None:
    shown = range_of(course_of(page(history=history, fittings=(), **limits), TODAY))
    assert shown.last > shown.first
    assert shown.high_c - shown.low_c >= 4


def test_that_the_last_years_leave_out_what_came_before() -> None:
    lines = tuple(read(number, number * 91, 41.0, 41.0) for number in range(60))
    course = course_of(with_fan(history=lines), TODAY)
    assert len(course.stops) == 60
    assert TODAY - range_of(course).first > timedelta(days=14 * 365)
    assert timedelta(days=730) < TODAY - range_of(course, 2).first < timedelta(days=800)


def test_that_places_on_the_axes_can_be_read_back() -> None:
    axes = Axes(Range(date(2026, 1, 1), date(2026, 1, 11), 40.0, 44.0), 50, 10, 150, 90)
    assert (axes.x(date(2026, 1, 6)), axes.y(41.0)) == (100, 70)
    assert axes.day_at(101) == date(2026, 1, 6)
    assert (axes.held_y(50), axes.held_y(30)) == (10, 90)
    assert (axes.mark_y(50), axes.mark_y(41.0), axes.mark_y(30)) == (23, 70, 77)


@pytest.mark.parametrize(
    ("low", "high", "most", "expected"),
    [
        (40.2, 44.1, 5, (41, 42, 43, 44)),
        (40.0, 41.9, 5, (40, 40.5, 41, 41.5)),
        (30.0, 50.0, 4, (30, 35, 40, 45, 50)),
    ],
)
def test_that_temperature_ticks_are_round(
    low: float, high: float, most: int, expected: tuple[float, ...]
) -> None:
    assert ticks_c(Range(TODAY, TODAY, low, high), most) == expected


def test_that_date_ticks_are_firsts_of_months_and_then_years() -> None:
    short = ticks_days(Range(date(2026, 1, 15), date(2026, 6, 20), 0, 1), 6)
    assert short[0] == (date(2026, 2, 1), "Feb 2026")
    assert len(short) == 5
    long = ticks_days(Range(date(2011, 5, 1), date(2027, 1, 1), 0, 1), 9)
    assert [words for _, words in long][:2] == ["2012", "2014"]
    assert all(day.month == 1 for day, _ in long)
    assert len(long) <= 9
