from estate.domain.findings import Severity
from estate.domain.life.faults import read_faults
from estate.domain.visits import VisitKind
from tests.domain.life.builders import HOT, SLOW, failed, visit

CHANGED = "changed-since-previous"
FOUND = "found-above-ceiling"


def standing(*series: object) -> set[str]:
    return {each.code for each in read_faults(series).standing}  # type: ignore[arg-type]  # visits


def test_that_a_fault_stands_since_it_was_first_found() -> None:
    (fault,) = read_faults([visit(1, failed()), visit(5), visit(9, failed())]).standing
    assert (fault.since, fault.on, fault.visit_id) == (visit(1).on, visit(9).on, 9)


def test_that_the_worst_fault_comes_first() -> None:
    found = read_faults([visit(1, failed(SLOW, Severity.PUT_RIGHT), failed())])
    assert [each.code for each in found.standing] == [HOT, SLOW]


def test_that_what_was_found_too_hot_is_answered_by_what_is_left_in_order_later() -> None:
    assert standing(visit(1, failed(FOUND))) == {FOUND}
    assert standing(visit(1, failed(FOUND)), visit(2, met=[HOT])) == set()


def test_that_a_change_is_answered_by_a_test_without_one_or_by_a_new_reference_left_in_order() -> None:
    changed = visit(1, failed(CHANGED, Severity.PUT_RIGHT))
    assert standing(changed, visit(2, met=[HOT])) == {CHANGED}
    assert standing(changed, visit(2, met=[CHANGED])) == set()
    serviced = visit(2, met=[HOT], kind=VisitKind.SERVICE)
    assert standing(changed, serviced) == set()
    assert standing(changed, visit(2, kind=VisitKind.SERVICE)) == {CHANGED}


def test_that_findings_are_answered_only_by_later_visits() -> None:
    found = read_faults([visit(1, met=[HOT]), visit(2, failed()), visit(3, met=[HOT]), visit(4, failed())])
    answer = found.answer_to([(2, HOT)])
    assert answer is not None
    assert answer.id == 3
    assert found.answer_to([(2, HOT), (4, HOT)]) is None
    assert not found.stand([(2, HOT)])
    assert found.stand([(4, HOT)])


def test_that_findings_of_visits_that_do_not_count_hold_nothing() -> None:
    found = read_faults([visit(1, failed())])
    assert found.holds([(1, HOT)])
    assert not found.holds([(1, SLOW), (7, HOT)])
    assert found.answer_to([(7, HOT)]) is None
    assert not found.stand([(7, HOT)])
