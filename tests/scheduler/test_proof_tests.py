from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from estate.domain.visits import Isolation, Readings, VisitDraft, VisitKind
from estate.scheduler.life import ValveLife
from estate.scheduler.proof_tests import ShutOffEvidence, evidence_of, shut_then
from estate.scheduler.visit_table import table_of
from tests.builders import draft

BEGAN = date(2024, 1, 1)
YEAR = 365.2425
LIMIT = 120.0
DRY = Isolation(residual_ml_min=0.0)
RUNS = Isolation(residual_ml_min=400.0)
UNMEASURED = Isolation(said_to_shut=True)


def visit(days: int, cold_isolated: Isolation = DRY, kind: VisitKind = VisitKind.IN_SERVICE) -> VisitDraft:
    return draft(BEGAN + timedelta(days), kind, Readings(cold_isolated=cold_isolated))


def commissioned(cold_isolated: Isolation = DRY) -> VisitDraft:
    return visit(0, cold_isolated, VisitKind.COMMISSIONING)


def proof(*visits: VisitDraft) -> ShutOffEvidence:
    return evidence_of([ValveLife(None, visits)], [LIMIT])


def shut(readings: Readings, limit: float) -> bool | None:
    shown = shut_then(table_of([ValveLife(None, (draft(BEGAN, readings=readings),))]), np.array([limit]))[0]
    return None if np.isnan(shown) else bool(shown)


def failed_days(evidence: ShutOffEvidence) -> list[int]:
    years = evidence.failed_years[~np.isnan(evidence.failed_years)]
    return [round(each * YEAR) for each in years]


@pytest.mark.parametrize(
    ("cold_isolated", "shown"),
    [
        ({"residual_ml_min": 0.0}, True),
        ({"residual_ml_min": 120.0}, True),
        ({"residual_ml_min": 121.0}, False),
        ({"residual_ml_min": 0.0, "said_to_shut": False}, False),
        ({"said_to_shut": False}, False),
        ({"said_to_shut": True}, None),
        ({"stabilised_c": 41.0}, None),
        ({}, None),
    ],
)
def test_that_only_a_measured_flow_proves_that_it_shuts(
    cold_isolated: dict[str, Any], shown: bool | None
) -> None:
    assert shut(Readings(cold_isolated=Isolation(**cold_isolated)), LIMIT) is shown


def test_that_without_a_limit_a_flow_is_no_proof() -> None:
    assert shut(Readings(cold_isolated=DRY), np.nan) is None


def test_that_the_hot_isolation_is_no_proof_of_the_scald_protection() -> None:
    assert shut(Readings(hot_isolated=DRY), LIMIT) is None


def test_that_passes_add_up_from_commissioning() -> None:
    evidence = proof(commissioned(), visit(100), visit(300))
    assert evidence.passed_years[0] == pytest.approx(300 / YEAR)
    assert (failed_days(evidence), evidence.tests[0], evidence.found_failed[0]) == ([], 2, False)
    assert evidence.shown_day[0] == (BEGAN + timedelta(300)).toordinal()


def test_that_an_unmeasured_visit_neither_passes_nor_stops_the_clock() -> None:
    evidence = proof(commissioned(), visit(100, UNMEASURED), visit(300, RUNS))
    assert evidence.passed_years[0] == 0
    assert (failed_days(evidence), evidence.tests[0]) == ([300], 1)
    assert np.isnan(evidence.shown_day[0])
    assert evidence.found_failed[0]


def test_that_a_commissioning_without_a_measurement_starts_the_clock_but_shows_nothing() -> None:
    evidence = proof(commissioned(UNMEASURED), visit(100, UNMEASURED))
    assert np.isnan(evidence.shown_day[0])
    assert not evidence.found_failed[0]
    assert proof(commissioned(UNMEASURED), visit(100)).passed_years[0] == pytest.approx(100 / YEAR)


def test_that_a_result_at_a_service_says_nothing_of_the_time_before() -> None:
    evidence = proof(commissioned(), visit(100, DRY, VisitKind.SERVICE), visit(150))
    assert evidence.passed_years[0] == pytest.approx(50 / YEAR)
    assert evidence.tests[0] == 1


def test_that_a_failure_found_twice_counts_once() -> None:
    evidence = proof(commissioned(), visit(100, RUNS), visit(200, RUNS), visit(300), visit(350))
    assert failed_days(evidence) == [100]
    assert evidence.passed_years[0] == pytest.approx(50 / YEAR)
    assert not evidence.found_failed[0]


def test_that_a_service_after_a_failure_starts_the_clock_again() -> None:
    evidence = proof(commissioned(), visit(100, RUNS), visit(110, DRY, VisitKind.SERVICE), visit(200, RUNS))
    assert failed_days(evidence) == [100, 90]


def test_that_a_service_that_did_not_mend_it_leaves_it_failed() -> None:
    evidence = proof(commissioned(), visit(100, RUNS, VisitKind.SERVICE), visit(150))
    assert (failed_days(evidence), evidence.passed_years[0]) == ([], 0)


def test_that_a_first_test_without_a_start_is_left_out() -> None:
    evidence = proof(visit(0), visit(100))
    assert evidence.passed_years[0] == pytest.approx(100 / YEAR)
    assert failed_days(proof(visit(0, RUNS))) == []


def test_that_a_failure_on_the_day_of_a_pass_counts_as_one_day() -> None:
    assert failed_days(proof(commissioned(), visit(100), visit(100, RUNS))) == [1]


def test_that_visits_out_of_order_are_put_in_order() -> None:
    visits = (visit(300), commissioned(), visit(100))
    assert proof(*visits).passed_years == proof(*sorted(visits, key=lambda each: each.on)).passed_years


def test_that_valves_do_not_lend_each_other_their_clock() -> None:
    lives = [
        ValveLife(None, each) for each in [(visit(0),), (), (visit(100), visit(200, RUNS)), (visit(400),)]
    ]
    evidence = evidence_of(lives, [LIMIT] * 4)
    assert evidence.passed_years.tolist() == [0, 0, 0, 0]
    assert evidence.failed_years.shape == (4, 1)
    assert failed_days(evidence) == [100]
    assert evidence.found_failed.tolist() == [False, False, True, False]
    assert np.isnan(evidence.shown_day).tolist() == [False, True, True, False]
    assert evidence.rows(np.array([2])).found_failed.tolist() == [True]


def test_that_each_valve_is_measured_by_its_own_limit() -> None:
    trickle = replace(RUNS, residual_ml_min=60.0)
    lives = [ValveLife(None, (commissioned(), visit(100, trickle)))] * 2
    assert evidence_of(lives, [120.0, 50.0]).found_failed.tolist() == [False, True]


def test_that_no_lives_give_no_evidence() -> None:
    assert evidence_of([], []).passed_years.shape == (0,)
