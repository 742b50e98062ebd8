from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from estate.domain.thinning import Aged, Keep, too_many

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


def _aged(*hours: float, bad: tuple[float, ...] = ()) -> list[Aged]:
    return [Aged(f"{each:g}", NOW - timedelta(hours=each), each not in bad) for each in hours]


def _gone(backups: list[Aged], keep: Keep | None = None) -> list[str]:
    return [each.name for each in too_many(backups, NOW, keep or Keep())]


def test_that_every_backup_of_the_last_day_stays() -> None:
    assert _gone(_aged(0, 0.1, 5, 23.9, 24)) == []


def test_that_of_an_earlier_day_the_last_one_stays() -> None:
    # 09:30 less 34, 40 and 57 hours: 23:30 on the 23rd, 17:30 on the 23rd, 00:30 on the 23rd
    assert _gone(_aged(0, 34, 40, 57)) == ["57", "40"]


def test_that_of_an_earlier_month_the_last_one_stays() -> None:
    september = [Aged(f"{day}", datetime(2026, 9, day, tzinfo=UTC)) for day in (1, 15, 29)]
    assert _gone([*_aged(0), *september]) == ["1", "15"]


def test_that_after_ten_years_a_backup_goes() -> None:
    assert _gone(_aged(0, 24 * 365 * 9.9, 24 * 365 * 10.1)) == [f"{24 * 365 * 10.1:g}"]


def test_that_the_newest_stays_however_old_it_is() -> None:
    assert _gone(_aged(24 * 365 * 20, 24 * 365 * 21)) == [f"{24 * 365 * 21}"]


def test_that_a_backup_dated_ahead_stays() -> None:
    assert _gone(_aged(-50, -49, 0)) == []


def test_that_of_a_day_a_good_one_stays_rather_than_a_later_one_that_is_not() -> None:
    assert _gone(_aged(0, 34, 40, 57, bad=(34,))) == ["57", "34"]
    assert _gone(_aged(0, 34, 40, bad=(34, 40))) == ["40"]


def test_that_the_last_good_one_stays_though_its_day_is_over() -> None:
    old = 24 * 365 * 20
    assert _gone(_aged(0, 1, old, old + 1, bad=(0, 1))) == [f"{old + 1}"]


def test_that_the_person_s_own_times_count() -> None:
    none = Keep(all_days=0, daily_days=0, monthly_years=0)
    assert _gone(_aged(0, 1, 2), none) == ["2", "1"]


@given(
    st.lists(st.tuples(st.floats(-100, 200_000), st.booleans()), min_size=1, unique_by=lambda each: each[0])
)
def test_that_thinning_twice_removes_no_more_and_never_the_newest_or_the_last_good(
    ages: list[tuple[float, bool]],
) -> None:
    backups = [Aged(str(n), NOW - timedelta(hours=hours), good) for n, (hours, good) in enumerate(ages)]
    gone = set(too_many(backups, NOW, Keep()))
    left = [each for each in backups if each not in gone]
    assert max(backups, key=lambda each: (each.at, each.name)) in left
    assert any(each.good for each in left) == any(each.good for each in backups)
    assert too_many(left, NOW, Keep()) == ()
