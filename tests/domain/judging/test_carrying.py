from datetime import date

from estate.domain.findings import Finding, Judgement, Outcome, Severity, Verdict
from estate.domain.judging.carrying import carry_forward
from estate.domain.judging.judge import judge
from estate.domain.visits import Isolation
from tests.builders import case, draft

MAY, JUNE, JULY = date(2026, 5, 4), date(2026, 6, 1), date(2026, 7, 6)
FAILED = judge(case(draft(cold_isolated=Isolation(residual_ml_min=500.0))))
PARTLY = judge(case(draft(cold_isolated=Isolation())))
GOOD = judge(case())


def test_that_a_failed_shut_off_stands_until_it_is_tested_again() -> None:
    carried = carry_forward(PARTLY, [(MAY, FAILED)])
    assert (PARTLY.verdict, carried.verdict) == (Verdict.NOT_TESTED, Verdict.OUT_OF_USE)
    (standing,) = [each for each in carried.findings if each.code == "cold-isolated-flow"]
    assert "4 May 2026" in standing.words
    assert standing.retest_weeks == (0.0, 0.0)
    assert "cold-isolated-flow" not in {each.code for each in carried.not_tested}


def test_that_a_good_test_in_between_clears_it() -> None:
    carried = carry_forward(PARTLY, [(JUNE, GOOD), (MAY, FAILED)])
    assert carried.verdict is Verdict.NOT_TESTED


def test_that_it_stands_through_several_visits_that_did_not_test_it() -> None:
    assert (
        carry_forward(PARTLY, [(JULY, PARTLY), (JUNE, PARTLY), (MAY, FAILED)]).verdict is Verdict.OUT_OF_USE
    )


def test_that_what_was_tested_again_is_judged_by_its_own_test() -> None:
    assert carry_forward(GOOD, [(MAY, FAILED)]) == GOOD
    assert carry_forward(FAILED, [(MAY, GOOD)]) == FAILED


def test_that_what_speaks_of_one_visit_alone_is_not_carried() -> None:
    checks = ("instrument-out-of-calibration", "changed-since-previous", "found-above-ceiling")
    before = Judgement(
        "r", "1", tuple(Finding(code, Outcome.NOT_MET, "no", Severity.PUT_RIGHT) for code in checks)
    )
    after = Judgement("r", "1", tuple(Finding(code, Outcome.NOT_TESTED, "not measured") for code in checks))
    assert carry_forward(after, [(MAY, before)]) == after


def test_that_a_mere_watch_is_not_carried() -> None:
    before = Judgement("r", "1", (Finding("pipe-too-long", Outcome.NOT_MET, "2.4 m", Severity.WATCH),))
    after = Judgement("r", "1", (Finding("pipe-too-long", Outcome.NOT_TESTED, "not measured"),))
    assert carry_forward(after, [(MAY, before)]) == after
