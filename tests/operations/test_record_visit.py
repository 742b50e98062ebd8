from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estate.domain.findings import Verdict
from estate.domain.standing import OutletState
from estate.domain.visits import Isolation, Readings, Standing, Visit, VisitDraft, VisitKind
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse
from estate.operations.plan_retests import due_lines
from estate.operations.record_visit import correct_visit, judge_draft, record_visit, void_visit
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO

REF = "MM/G/G01/WHB1"
READINGS = Readings(
    hot_c=60.0, cold_c=13.0, found_c=41.3, left_c=41.3, cold_isolated=Isolation(residual_ml_min=0.0)
)


def typed(register: Register, on: date = TODAY, **fields: Any) -> VisitDraft:
    outlet = browse.find_outlet(register, REF)
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert page.valve is not None
    readings = replace(READINGS, **fields)
    return VisitDraft(page.valve.id, outlet.id, VisitKind.IN_SERVICE, on, readings, "A. Thorne")


def history(register: Register) -> tuple[Visit, ...]:
    page = browse.outlet_page(register, browse.find_outlet(register, REF).id, TODAY)
    return tuple(line.visit for line in page.history)


def record(register: Register, draft: VisitDraft) -> Visit:
    return record_visit(register, draft, who=WHO, at=NOW, today=TODAY).visit


def test_that_a_visit_is_judged_while_it_is_typed_and_nothing_is_written(register: Register) -> None:
    assert judge_draft(register, typed(register)).verdict is Verdict.SATISFACTORY
    assert judge_draft(register, typed(register, left_c=44.0)).verdict is Verdict.OUT_OF_USE
    assert len(history(register)) == 2


def test_that_a_recorded_visit_moves_the_next_window(register: Register) -> None:
    before = due_lines(register, TODAY)[0]
    recorded = record_visit(register, typed(register), who=WHO, at=NOW, today=TODAY)
    after = due_lines(register, TODAY)[0]
    assert (before.overdue, after.overdue) == (True, False)
    assert after.last_visit == TODAY
    assert recorded.judgement.verdict is Verdict.SATISFACTORY
    assert recorded.visit.id in recorded.changes.visits


@pytest.mark.parametrize(
    ("on", "fields", "title"),
    [
        (date(2026, 11, 26), {}, "The visit lies ahead"),
        (date(2026, 1, 4), {}, "The visit comes before the valve"),
        (TODAY, {"found_c": 413.0}, "A value can't be true"),
        (TODAY, {"cold_isolated": Isolation(residual_ml_min=-1.0)}, "A value can't be true"),
    ],
)
def test_that_what_can_not_be_true_is_refused(
    register: Register, on: date, fields: dict[str, Any], title: str
) -> None:
    with pytest.raises(EntryFault) as caught:
        record(register, typed(register, on, **fields))
    assert caught.value.title == title
    assert len(history(register)) == 2


def test_that_a_visit_without_a_reading_is_refused(register: Register) -> None:
    with pytest.raises(EntryFault) as caught:
        record(register, replace(typed(register), readings=Readings()))
    assert caught.value.title == "Nothing was measured"


def test_that_a_voided_visit_stays_on_record_and_counts_no_more(register: Register) -> None:
    visit = record(register, typed(register, left_c=44.0))
    assert due_lines(register, TODAY)[0].verdict is Verdict.OUT_OF_USE
    void_visit(register, visit.id, reason="wrong outlet", who=WHO, at=NOW)
    kept = history(register)[0]
    assert (kept.id, kept.standing, kept.void_reason) == (visit.id, Standing.VOID, "wrong outlet")
    assert due_lines(register, TODAY)[0].verdict is Verdict.SATISFACTORY


def test_that_a_void_needs_a_reason(register: Register) -> None:
    visit = record(register, typed(register))
    with pytest.raises(EntryFault):
        void_visit(register, visit.id, reason="  ", who=WHO, at=NOW)
    assert history(register)[0].standing is Standing.RECORDED


def test_that_a_correction_is_a_further_entry(register: Register) -> None:
    wrong = record(register, typed(register, left_c=44.0))
    mended = correct_visit(register, wrong.id, typed(register), who=WHO, at=NOW, today=TODAY).visit
    kept = {each.id: each for each in history(register)}
    assert kept[wrong.id].standing is Standing.CORRECTED
    assert (kept[mended.id].corrects, kept[mended.id].standing) == (wrong.id, Standing.RECORDED)
    assert due_lines(register, TODAY)[0].verdict is Verdict.SATISFACTORY


def test_that_a_correction_is_not_compared_with_what_it_corrects(register: Register) -> None:
    wrong = record(register, typed(register, found_c=48.0, left_c=48.0))
    judged = judge_draft(register, typed(register, found_c=42.0, left_c=42.0), without=wrong.id)
    changes = [each for each in judged.checks if each.code == "changed-since-previous"]
    assert changes[0].measured == pytest.approx(0.8)


def test_that_a_visit_that_is_not_there_can_not_be_voided_or_corrected(register: Register) -> None:
    with pytest.raises(NotFoundFault):
        void_visit(register, 999, reason="gone", who=WHO, at=NOW)
    with pytest.raises(NotFoundFault):
        correct_visit(register, 999, typed(register), who=WHO, at=NOW, today=TODAY)


def test_that_an_earlier_visit_recorded_late_is_judged_in_its_place(register: Register) -> None:
    record(register, typed(register, date(2026, 8, 1), found_c=42.1, left_c=42.1))
    record(register, typed(register, date(2026, 6, 1), found_c=39.9, left_c=39.9))
    page = browse.outlet_page(register, browse.find_outlet(register, REF).id, TODAY)
    verdicts = {line.visit.on: line.judgement.verdict for line in page.history}
    assert verdicts[date(2026, 8, 1)] is Verdict.PUT_RIGHT


def test_that_a_partial_test_does_not_put_a_failed_outlet_back_in_use(register: Register) -> None:
    failed = Isolation(residual_ml_min=500.0)
    record(register, typed(register, date(2026, 10, 1), cold_isolated=failed))
    record(register, typed(register, date(2026, 10, 8), cold_isolated=Isolation()))
    line = due_lines(register, TODAY)[0]
    assert (line.verdict, line.state) == (Verdict.OUT_OF_USE, OutletState.OUT_OF_USE)
    assert line.window.reason.code == "retest-cold-isolated-flow"
    record(register, typed(register, date(2026, 10, 9)))
    assert due_lines(register, TODAY)[0].verdict is Verdict.SATISFACTORY
