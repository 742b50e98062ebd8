"""Windows of many valves at once are those of each valve alone."""

import copy
import pickle
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from types import MappingProxyType

import numpy as np
import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.learned import GroupParameters
from estate.domain.rules.values import RuleSet
from estate.domain.visits import Isolation, Readings, VisitDraft, VisitKind
from estate.domain.windows import Candidate, Reason, Window
from estate.operations.open_register import published_rule_sets
from estate.scheduler.estimates import Asked, Estimates
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife
from estate.scheduler.lives import lives_of
from estate.scheduler.planning import windows_of
from estate.scheduler.window_ends import months_after
from tests.builders import TODAY, healthcare

BEGAN = date(2024, 1, 31)
GROUP = GroupParameters("A15", 0.01, 0.02, 0.1, 0.2, 2.0, 40.0, 30, 200, BEGAN, "1")
DRIFTING = replace(GROUP, mu=0.12, s=0.3, a=1.0, b_years=4.0)
STEADY = replace(GROUP, mu=0.0, omega=0.001, sigma=0.005, b_years=4000.0)


def with_values(rules: RuleSet, values: Mapping[str, float | None]) -> RuleSet:
    """A rule set with some values replaced, or taken out where None."""
    found = {**rules.values}
    for key, value in values.items():
        if value is None:
            found.pop(key, None)
        else:
            found[key] = replace(rules.values[key], value=value)
    return replace(rules, values=MappingProxyType(found))


WHOLE = healthcare()
RULE_SETS = (
    WHOLE,
    published_rule_sets()["uk-type2"],
    with_values(WHOLE, {"policy.growth": 1.25, "policy.floor": None, "window.opening": None}),
    with_values(WHOLE, {"policy.growth": 0.0, "change.large": 1.4, "policy.floor": 9.0}),
    with_values(WHOLE, {"change.small": None, "test.maximum-interval": None}),
    with_values(WHOLE, {"stage.1.to": None, "strainers.interval": 1.0, "test.maximum-interval": 13.0}),
    with_values(WHOLE, {"stage.2.from": None, "stage.3.short.to": None, "change.large": None}),
    with_values(WHOLE, {"stage.3.long.to": None, "strainers.interval": None}),
    with_values(WHOLE, {"stage.3.short.from": None, "stage.2.from": 9.5, "stage.2.to": 10.5}),
    replace(WHOLE, values=MappingProxyType({})),
)
ASKED = (
    Asked(43.0, 0.05, 0.02, 120.0),
    Asked(43.0, None, None, 120.0),
    Asked(None, 0.05, 0.05, None),
    Asked(46.0, 0.01, 0.5, 120.0),
)
TEMPERATURES = st.one_of(
    st.none(), st.sampled_from([39.0, 40.0, 41.0, 42.0, 42.4, 43.0, 43.1]), st.floats(36, 48)
)
SAID = st.sampled_from([None, True, False])
READINGS = st.builds(
    Readings,
    found_c=TEMPERATURES,
    left_c=TEMPERATURES,
    hot_c=st.sampled_from([None, 58.0, 61.0]),
    cold_c=st.sampled_from([None, 9.0, 15.0]),
    cold_isolated=st.builds(
        Isolation, residual_ml_min=st.sampled_from([None, 0.0, 119.0, 400.0]), said_to_shut=SAID
    ),
    adjusted=SAID,
    strainers_cleaned=SAID,
)
FINDINGS = st.builds(
    Finding,
    code=st.sampled_from(["left-above-ceiling", "cold-isolated-flow"]),
    outcome=st.sampled_from(list(Outcome)),
    words=st.sampled_from(["It was too hot. Act.", "Nothing was measured."]),
    severity=st.sampled_from([None, Severity.WATCH, Severity.OUT_OF_USE]),
    source=st.just("D08-35: published"),
    retest_weeks=st.sampled_from([None, None, (0.0, 0.0), (1.0, 4.0), (2.5, 4.5), (3.0, 60.0)]),
)
VISITS = st.lists(
    st.tuples(st.integers(0, 240), st.sampled_from([*VisitKind, VisitKind.IN_SERVICE]), READINGS), max_size=9
)


@st.composite
def lives(draw: st.DrawFn) -> ValveLife:
    """A valve with any history that a register can hold."""
    day, visits = BEGAN + timedelta(draw(st.integers(0, 400))), []
    for gap, kind, readings in draw(VISITS):
        day += timedelta(gap)
        visits.append(VisitDraft(1, 1, kind, day, readings))
    checks = tuple(draw(st.lists(FINDINGS, max_size=3)))
    judgement = draw(st.sampled_from([None, Judgement("uk-healthcare", "1", checks)])) if visits else None
    fitted = draw(st.sampled_from([None, BEGAN, date(2021, 12, 31)]))
    return ValveLife(fitted, tuple(visits), judgement, draw(st.booleans()))


ESTATES = st.lists(
    st.tuples(
        lives(),
        st.sampled_from(RULE_SETS),
        st.sampled_from([GROUP, DRIFTING, STEADY]),
        st.sampled_from(ASKED),
    ),
    min_size=1,
    max_size=6,
)


@settings(max_examples=250, deadline=None)
@given(ESTATES, st.booleans())
def test_that_the_windows_of_many_valves_are_those_of_each(
    estate: list[tuple[ValveLife, RuleSet, GroupParameters, Asked]], fitted: bool
) -> None:
    """Dates, codes, words and sources of every candidate, in order; and which one binds."""
    each, rules, groups, asked = zip(*estate, strict=True)
    together = lives_of(each)
    estimates = Estimates(together, groups, asked) if fitted else None
    windows = windows_of(together, rules, TODAY, estimates)
    for row, (life, rule_set) in enumerate(zip(each, rules, strict=True)):
        alone = plan(life, rule_set, TODAY, estimates.learned(row) if estimates else None)
        found = windows.window(row)
        assert (found.binding, len(found.candidates)) == (alone.binding, len(alone.candidates))
        assert found == alone
        ends = sorted(day for day in windows.ends.days[:, row].tolist() if np.isfinite(day))
        if alone.reason.code not in ("never-tested", "no-rule"):
            assert ends == [candidate.not_after.toordinal() for candidate in alone.candidates]


@settings(max_examples=100, deadline=None)
@given(ESTATES)
def test_that_the_interval_that_comes_back_is_the_shortest_of_those_that_recur(
    estate: list[tuple[ValveLife, RuleSet, GroupParameters, Asked]],
) -> None:
    each, rules, groups, asked = zip(*estate, strict=True)
    together = lives_of(each)
    windows = windows_of(together, rules, TODAY, Estimates(together, groups, asked))
    for row, life in enumerate(each):
        recurring = ("shown-interval", "drift", "shut-off", "longest-interval")
        candidates = windows.window(row).candidates
        ends = [found.not_after for found in candidates if found.reason.code.startswith(recurring)]
        weeks = (min(ends) - life.last.on).days / 7 if ends and life.last else 0.0
        assert windows.ends.recurring_weeks[row] == weeks


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 120))
def test_that_months_are_counted_as_the_calendar_counts_them(day: date, months: int) -> None:
    found = months_after(np.array([day.toordinal(), np.nan, 1.0]), np.array([months, months, np.nan]))
    assert found[0] == (day + relativedelta(months=months)).toordinal()
    assert np.isnan(found[1:]).all()


def week(number: float, found: float | None, left: float | None, adjusted: bool | None) -> VisitDraft:
    readings = Readings(found_c=found, left_c=left, adjusted=adjusted)
    return VisitDraft(1, 1, VisitKind.IN_SERVICE, BEGAN + timedelta(round(7 * number)), readings)


@pytest.mark.parametrize(
    "tests",
    [
        (week(7, 41.0, 41.0, False), week(13, 41.2, 41.2, None), week(26, 41.3, 41.3, None)),
        (week(7, 41.0, None, None), week(13, 41.2, None, False), week(26, 42.5, None, None)),
        (week(7, 43.2, 41.0, True), week(13, 41.2, 41.2, None), week(26, 41.3, 41.3, None)),
        (week(7, 42.5, None, True), week(13, 41.2, 41.2, False), week(26, 41.3, 41.3, None)),
        (week(7, 42.2, 42.2, False), week(13, 42.3, 42.3, False), week(21, 42.4, 42.4, False)),
        (week(7, 41.1, 41.1, None), week(13, 42.9, 41.0, None), week(26, 41.2, 41.2, None)),
        (week(13, 41.2, 41.2, False), week(26, 43.5, 43.5, False), week(40, 41.0, 41.0, False)),
    ],
)
@pytest.mark.parametrize("as_left", [None, 41.0])
@pytest.mark.parametrize("more", [(), (week(60, 41.4, 41.4, None), week(75, 43.9, 41.0, None))])
def test_that_levels_lost_and_found_again_are_followed_as_for_one_valve(
    tests: tuple[VisitDraft, ...], as_left: float | None, more: tuple[VisitDraft, ...]
) -> None:
    began = VisitDraft(1, 1, VisitKind.COMMISSIONING, BEGAN, Readings(left_c=as_left))
    for count in range(len(tests) + 1):
        life = ValveLife(BEGAN, (began, *tests[:count], *more))
        for rules in RULE_SETS:
            assert windows_of(lives_of([life]), [rules], TODAY).window(0) == plan(life, rules, TODAY)


def first_window() -> tuple[Window, Window]:
    """One window, made when it is looked at and made at once."""
    visit = VisitDraft(1, 1, VisitKind.COMMISSIONING, BEGAN, Readings(left_c=41.0))
    life = ValveLife(BEGAN, (visit,))
    return windows_of(lives_of([life]), [WHOLE], TODAY).window(0), plan(life, WHOLE, TODAY)


def test_that_a_window_made_when_it_is_looked_at_is_a_value_like_any_other() -> None:
    lazy, eager = first_window()
    assert (lazy, hash(lazy), repr(lazy)) == (eager, hash(eager), repr(eager))
    assert eager == lazy
    assert lazy == first_window()[0]
    assert lazy.candidates[1:] == eager.candidates[1:]
    assert lazy.candidates[-1] is lazy.candidates[len(eager.candidates) - 1]
    assert lazy.candidates != list(eager.candidates)
    assert lazy != Window((Candidate(BEGAN, BEGAN, Reason("no-rule", "", "")),))


@pytest.mark.parametrize("again", [lambda made: pickle.loads(pickle.dumps(made)), copy.deepcopy])
def test_that_a_window_kept_elsewhere_holds_its_candidates_alone(again: Callable[[Window], Window]) -> None:
    lazy, eager = first_window()
    assert again(lazy) == eager
    assert isinstance(again(lazy).candidates, tuple)
