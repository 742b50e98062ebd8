"""The columns that an estate is planned from say the same as the values of each visit."""

from dataclasses import fields, replace
from datetime import date, timedelta

import numpy as np

from estate.operations.holdings import Holdings, read_holdings
from estate.operations.learn import learned_of
from estate.operations.plan_basis import PlanBasis, plan_basis_with, read_plan_basis
from estate.operations.plan_retests import due_lines, lines_of
from estate.operations.record_visit import correct_visit, void_visit
from estate.operations.register import Register
from estate.scheduler.visit_table import VisitTable
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_learn import learned  # noqa: F401 - a fixture, found by its name
from tests.operations.test_record_visit import record, typed


def both(register: Register, today: date = TODAY) -> tuple[PlanBasis, Holdings]:
    with register.database.reading() as session:
        return (
            read_plan_basis(session, register.published, today),
            read_holdings(session, register.published, on=today),
        )


def columns(table: VisitTable) -> dict[str, list[float]]:
    """A table with -1 for what was not measured, so that two can be compared."""
    return {each.name: np.nan_to_num(getattr(table, each.name), nan=-1.0).tolist() for each in fields(table)}


def alike(register: Register, today: date = TODAY) -> bool:
    """Whether columns and values give the same lives."""
    basis, holdings = both(register, today)
    lives, expected = basis.lives(basis.fittings), holdings.lives(holdings.fittings)
    return (
        columns(lives.table) == columns(expected.table)
        and lives.judgements == expected.judgements
        and lives.fitted_on == expected.fitted_on
        and lives.with_strainers == expected.with_strainers
    )


def test_that_every_body_has_the_same_visits_and_judgements(register: Register) -> None:
    basis, _ = both(register)
    lives = basis.lives(basis.fittings)
    assert alike(register)
    assert lives.table.count.tolist() == [2, 1, 2, 0]
    assert [each is None for each in lives.judgements] == [False, False, False, True]


def test_that_what_was_said_is_read_like_what_was_measured(register: Register) -> None:
    record(register, typed(register, adjusted=True, strainers_cleaned=False, found_c=None))
    basis, _ = both(register)
    table = basis.lives(basis.fittings).table
    assert (table.adjusted[2], table.strainers_cleaned[2]) == (1.0, 0.0)
    assert np.isnan(table.found[2])
    assert alike(register)


def test_that_void_and_corrected_visits_do_not_count_and_a_void_correction_corrects_nothing(
    register: Register,
) -> None:
    first = record(register, typed(register, TODAY - timedelta(days=2), found_c=42.0))
    second = record(register, typed(register, TODAY - timedelta(days=1), found_c=42.5))
    corrected = replace(second.draft, readings=replace(second.readings, found_c=41.5))
    correction = correct_visit(register, second.id, corrected, who=WHO, at=NOW, today=TODAY)
    assert alike(register)
    void_visit(register, first.id, reason="another outlet", who=WHO, at=NOW)
    assert alike(register)
    assert found(register) == [41.2, 41.5]
    void_visit(register, correction.visit.id, reason="typed wrongly", who=WHO, at=NOW)
    assert alike(register)
    assert found(register) == [41.2, 42.5]


def found(register: Register) -> list[float]:
    """As-found readings of the first body that count."""
    basis, _ = both(register)
    table = basis.lives(basis.fittings[:1]).table
    return [float(each) for each in table.found[~np.isnan(table.found)]]


def test_that_later_visits_are_left_out(register: Register) -> None:
    early = date(2026, 1, 31)
    basis, _ = both(register, early)
    assert basis.lives(basis.fittings).table.count.tolist() == [1, 1, 1, 0]
    assert alike(register, early)
    assert alike(register, date(2020, 1, 1))


def test_that_a_failure_not_tested_again_stands(register: Register) -> None:
    failing = typed(register, TODAY - timedelta(days=30), left_c=46.0)
    record(register, failing)
    record(register, typed(register, left_c=None, found_c=None))
    basis, _ = both(register)
    assert alike(register)
    first = basis.lives(basis.fittings).judgements[0]
    assert first is not None
    assert any("was not tested again" in each.words for each in first.findings)


def test_that_lines_are_the_same_from_columns_and_from_values(learned: Register) -> None:
    basis, holdings = both(learned)
    assert lines_of(basis, TODAY) == lines_of(holdings, TODAY) == due_lines(learned, TODAY)
    in_place = tuple(basis.in_place(TODAY).values())
    assert learned_of(basis, in_place) == learned_of(holdings, in_place)


def test_that_before_the_first_fit_nothing_is_learned(register: Register) -> None:
    basis, holdings = both(register, date(2026, 3, 1))
    in_place = tuple(basis.in_place(TODAY).values())
    assert learned_of(basis, in_place) == learned_of(holdings, in_place) == {}


def test_that_an_empty_register_has_no_lines(empty: Register) -> None:
    assert due_lines(empty, TODAY) == ()
    assert alike(empty)


def test_that_visits_in_hand_give_the_bodies_that_reading_them_again_gives(register: Register) -> None:
    record(register, typed(register, TODAY - timedelta(days=9), found_c=42.0))
    wrong = record(register, typed(register, TODAY - timedelta(days=5), found_c=42.5))
    void = record(register, typed(register, TODAY - timedelta(days=4), found_c=42.7))
    void_visit(register, void.id, reason="another outlet", who=WHO, at=NOW)
    with register.database.reading() as session:
        known = read_holdings(session, register.published, judged=False)
    late = record(register, typed(register, TODAY - timedelta(days=20), adjusted=True))
    corrected = replace(wrong.draft, readings=replace(wrong.readings, found_c=41.5))
    correction = correct_visit(register, wrong.id, corrected, who=WHO, at=NOW, today=TODAY).visit
    newest = record(register, typed(register))
    for on in (TODAY, TODAY - timedelta(days=1)):
        basis, _ = both(register, on)
        found = plan_basis_with(known, [late, correction, newest], on)
        assert found.bodies.row_of == basis.bodies.row_of
        assert columns(found.bodies.table) == columns(basis.bodies.table)
        assert (found.outlets, found.valves, found.fittings) == (basis.outlets, basis.valves, basis.fittings)
