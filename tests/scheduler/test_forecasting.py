"""A forecast of a made-up estate: who was watched, what is told, and what is too little to tell."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from estate.domain.findings import Judgement
from estate.domain.forecast import Ages
from estate.domain.visits import Isolation, VisitDraft, VisitKind
from estate.scheduler.drift_by_model import MOST_VALVES, drift_by_group
from estate.scheduler.fit import fit_pooled
from estate.scheduler.forecasting import ESTATE, Watching, age_bands, forecast_group, likeliest, watching_of
from estate.scheduler.life import ValveLife
from estate.scheduler.lives import Lives, lives_of
from estate.scheduler.strainers import cleanings_due
from estate.scheduler.watched import WatchedBody, ages_in_place, lifetimes_of
from tests.builders import TODAY, draft
from tests.scheduler.histories import panel, simulated

YEAR = timedelta(days=365)


def body(model: str = "A15", born_years: float = 5, watched_years: float = 5, **fields: Any) -> WatchedBody:
    """A body in place, fitted and watched for some years."""
    born = TODAY - timedelta(days=round(365.25 * born_years))
    entered = TODAY - timedelta(days=round(365.25 * watched_years))
    base = WatchedBody(model, "MM/1", f"{model} 1", born, entered)
    return replace(base, **fields)


def visits_made(count: int, fails: int = 0, services: int = 0) -> tuple[VisitDraft, ...]:
    """Commissioned, then tested twice a year; the last tests found that it doesn't shut."""
    days = [TODAY - timedelta(weeks=26 * place) for place in range(count, -1, -1)]
    visits = [draft(days[0], VisitKind.COMMISSIONING, found_c=None)]
    for place, day in enumerate(days[1:], start=1):
        flow = 900.0 if place > count - fails else 0.0
        kind = VisitKind.SERVICE if place <= services else VisitKind.IN_SERVICE
        visits.append(draft(day, kind, cold_isolated=Isolation(residual_ml_min=flow), strainers_cleaned=None))
    return tuple(visits)


def watching(
    bodies: list[WatchedBody], histories: list[tuple[VisitDraft, ...]], models: list[str]
) -> Watching:
    """A forecast's material; of the last valve something had to be put right."""
    whole = lives_of([ValveLife(None, each) for each in histories])
    number = len(histories)
    put_right = np.arange(number) == number - 1
    return Watching(
        TODAY, bodies, whole, models, np.full(number, 120.0), np.ones(number, np.bool_), put_right
    )


def test_that_a_body_is_watched_from_the_first_record_to_its_end() -> None:
    gone = body(born_years=9, watched_years=4, left=TODAY - 2 * YEAR, replaced=True)
    assert gone.years_watched(TODAY) == pytest.approx(2, abs=0.01)
    assert body(entered=None).years_watched(TODAY) == 0
    assert body(entered=TODAY + YEAR).years_watched(TODAY) == 0
    assert body(born=None).age_years(TODAY) is None


def test_that_lives_are_ages_and_those_of_unknown_age_or_not_watched_are_left_out() -> None:
    bodies = [body(born_years=9, watched_years=4), body(born=None), body(entered=None), body(entered=TODAY)]
    lives = lifetimes_of(bodies, TODAY)
    assert lives.entry == pytest.approx([5.0], abs=0.01)
    assert lives.exit == pytest.approx([9.0], abs=0.01)
    assert len(lifetimes_of([], TODAY).exit) == 0
    ages, unknown = ages_in_place([*bodies, body(left=TODAY)], TODAY)
    assert (len(ages), unknown) == (3, 1)


def estate() -> Watching:
    """Twenty valves of two models, of which one model wears out and one was replaced five times."""
    worn = [body("A15", 9, 6, left=TODAY - YEAR, replaced=True) for _ in range(24)]
    standing = [body("A15", age, min(age, 6)) for age in (1, 1, 3, 3, 8, 8, 8, 8)]
    small = [body("C3", 2, 2) for _ in range(3)]
    histories = [visits_made(6, fails=1), *[visits_made(6)] * 8, *[visits_made(6, services=2)] * 2]
    return watching([*worn, *standing, *small], histories, ["A15"] * 8 + ["C3"] * 3)


def test_that_a_model_is_told_with_what_was_watched() -> None:
    found = forecast_group(estate(), "A15")
    assert (found.in_place, found.watched, found.replaced.count) == (8, 32, 24)
    assert (found.ages.known, found.ages.unknown) == (8, 0)
    assert (found.ages.median_years, found.ages.oldest_years) == pytest.approx((5.5, 8), abs=0.01)
    assert found.replaced.years == pytest.approx(24 * 5 + 8 + 24, abs=0.1)
    assert found.replaced.rate_per_year is not None
    assert found.replaced.expected is not None
    assert found.replaced.expected.low <= found.replaced.expected.mean <= found.replaced.expected.high
    assert found.by_age


def test_that_failures_of_the_shut_off_are_counted_over_the_years_that_tests_speak_for() -> None:
    found = forecast_group(estate(), "A15")
    assert (found.shut_off.count, found.shut_off_tested) == (1, 48)
    assert found.shut_off.years == pytest.approx(47 * 0.4983 + 0.4983 / 2, abs=0.01)
    assert found.shut_off_tests is not None
    assert found.shut_off_tests.value == pytest.approx(1 / 48)
    assert found.shut_off.expected is not None


def test_that_services_and_valves_put_right_are_counted() -> None:
    whole = forecast_group(estate(), ESTATE)
    assert whole.services.count == 4
    assert (whole.tested_valves, whole.in_place) == (11, 11)
    assert whole.put_right is not None
    assert whole.put_right.value == pytest.approx(1 / 11)


def test_that_too_few_are_told_to_be_too_few() -> None:
    found = forecast_group(estate(), "C3")
    assert found.replaced.rate_per_year is None
    assert found.services.expected is None
    assert (found.drift, found.still_in_place, found.half_replaced_years) == (None, (), None)
    assert [each.partition(":")[0] for each in found.too_few] == [
        "replacements and services",
        "failures of the shut-off",
        "drift",
    ]
    assert "3 bodies watched over 6.0 valve-years" in found.too_few[0]


def test_that_where_nothing_is_in_place_there_are_no_ages() -> None:
    gone = [body(left=TODAY, replaced=True)] * 5
    found = forecast_group(watching(gone, [visits_made(2)] * 6, ["A15"] * 6), "A15")
    assert found.ages == Ages(0, 0)
    assert found.replaced.expected is not None
    assert found.replaced.expected.high == 0


def test_that_without_a_known_age_one_rate_holds_for_all() -> None:
    unknown = [body("A15", born=None) for _ in range(6)]
    bands = age_bands([*unknown, body(born=None, left=TODAY - YEAR, replaced=True)], TODAY)
    assert (bands.begin.tolist(), bands.replaced.tolist()) == ([0.0], [1])
    found = forecast_group(watching(unknown, [visits_made(2)], ["A15"]), "A15")
    assert found.ages == Ages(0, 6)
    assert found.by_age is False
    assert found.replaced.expected is not None


def test_that_the_bodies_likeliest_to_go_are_the_old_ones_of_the_model_that_wears() -> None:
    found = likeliest(estate())
    assert len(found) == 10
    assert [round(each.age_years or 0) for each in found[:4]] == [8, 8, 8, 8]
    assert found[0].chance.value > found[-1].chance.value
    assert {each.valve for each in found[:4]} == {"A15 1"}


def test_that_where_ages_cannot_be_told_apart_nobody_is_named() -> None:
    assert likeliest(watching([body()] * 9, [visits_made(2)], ["A15"])) == ()


def test_that_a_model_that_tells_its_own_ages_apart_does_not_go_by_the_others() -> None:
    base = estate()
    steady = [body("C3", age, age) for age in (1, 4, 9)] * 20
    found = likeliest(replace(base, bodies=[*base.bodies, *steady]))
    assert {each.valve for each in found[:4]} == {"A15 1"}


def test_that_a_group_with_enough_of_everything_leaves_nothing_untold() -> None:
    many = watching([body()] * 25, [visits_made(6)] * 25, ["A15"] * 25)
    found = forecast_group(many, "A15")
    assert found.too_few == ()
    assert found.drift is not None
    assert found.drift.readings >= 100
    plain = watching_of(TODAY, many.bodies, many.lives, many.models, [120.0] * 25, [True] * 25, [False] * 25)
    assert forecast_group(plain, ESTATE).shut_off == forecast_group(many, ESTATE).shut_off


def test_that_a_body_of_unknown_age_goes_with_the_youngest() -> None:
    base = estate()
    odd = body("A15", born=None, entered=None)
    found = likeliest(replace(base, bodies=[odd, *base.bodies[:14]]))
    assert found[-1].age_years is None


def test_that_the_drift_of_a_model_is_the_pooled_fit_of_its_own_readings() -> None:
    one = simulated(40, 8, 3).panel
    found = drift_by_group(one, {"all": np.arange(40), "few": np.arange(5)})
    fit = fit_pooled(one)
    assert set(found) == {"all"}
    drift = found["all"]
    assert drift.mean.value == pytest.approx(fit.parameters.mu)
    assert drift.mean.high == pytest.approx(fit.parameters.mu + 1.959964 * fit.standard_errors.mu)
    assert drift.mean.low == pytest.approx(fit.parameters.mu - 1.959964 * fit.standard_errors.mu)
    assert drift.spread == pytest.approx(fit.parameters.omega)
    assert drift.valves == 40


def test_that_the_interval_of_a_drift_holds_the_truth_as_often_as_it_says() -> None:
    whole = simulated(1600, 7, 19).panel
    groups = {f"{place}": np.arange(place, 1600, 40) for place in range(40)}
    found = drift_by_group(whole, groups)
    held = [(each.mean.low or 0) <= 0.02 <= (each.mean.high or 0) for each in found.values()]
    assert len(held) == 40
    assert np.mean(held) >= 0.875


def test_that_too_little_to_compare_gives_no_drift() -> None:
    short = panel(*[[(0.0, float("nan"), 41.0), (7.0, 41.2, float("nan"))]] * 25)
    assert drift_by_group(short, {"all": np.arange(25)}) == {}
    assert drift_by_group(short, {}) == {}
    assert MOST_VALVES >= 1000


def lives_cleaned(*days_ago: int | None, strainers: bool = True) -> Lives:
    """Valves whose strainers were cleaned so many days ago, or never."""
    visits = [
        () if each is None else (draft(TODAY - timedelta(days=each), strainers_cleaned=True),)
        for each in days_ago
    ]
    nothing: list[Judgement | None] = [None] * len(visits)
    base = lives_of([ValveLife(None, each) for each in visits])
    return Lives(base.table, [None] * len(visits), nothing, [strainers] * len(visits))


def test_that_strainers_fall_due_by_their_last_cleaning() -> None:
    lives = lives_cleaned(0, 200, 900, None)
    assert cleanings_due(lives, [12.0] * 4, TODAY) == (3, 3)
    assert cleanings_due(lives, [24.0] * 4, TODAY) == (2, 2)
    assert cleanings_due(lives, [6.0] * 4, TODAY) == (4, 7)
    assert cleanings_due(lives, [None] * 4, TODAY) == (0, 0)
    assert cleanings_due(lives_cleaned(900, strainers=False), [12.0], TODAY) == (0, 0)


def test_that_today_is_passed_in() -> None:
    assert body().age_years(date(2031, 11, 25)) == pytest.approx(10, abs=0.01)
