import pytest

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.judging.judge import judge
from estate.domain.visits import VisitKind
from tests.builders import COMMISSIONED, case, check, draft

REFERENCE = draft(COMMISSIONED, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)


@pytest.mark.parametrize(
    ("found", "outcome", "severity"),
    [
        (41.9, Outcome.MET, None),
        (42.0, Outcome.MET, None),
        (42.1, Outcome.NOT_MET, Severity.WATCH),
        (39.0, Outcome.NOT_MET, Severity.WATCH),
        (38.9, Outcome.NOT_MET, Severity.PUT_RIGHT),
    ],
)
def test_that_changes_are_judged_by_their_size(
    found: float, outcome: Outcome, severity: Severity | None
) -> None:
    """Over 1 K asks for checks (D08-72), over 2 K for service (1.7); the edges themselves do not."""
    judgement = judge(case(draft(found_c=found, left_c=41.0, adjusted=True), reference=REFERENCE))
    change = check(judgement, "changed-since-previous")
    assert (change.outcome, change.severity) == (outcome, severity)


def test_that_a_change_names_the_checks_in_their_order_before_re_adjusting() -> None:
    change = check(judge(case(draft(found_c=42.5), reference=REFERENCE)), "changed-since-previous")
    order = [change.action.index(word) for word in ("strainers", "check valves", "isolating valves")]
    assert order == sorted(order)


def test_that_the_reference_is_compared_with_as_well_as_the_previous_test() -> None:
    last = draft(found_c=42.0, left_c=42.0)
    judgement = judge(case(draft(found_c=42.6, left_c=42.6), previous=last, reference=REFERENCE))
    assert check(judgement, "changed-since-previous").outcome is Outcome.MET
    assert check(judgement, "changed-since-reference").measured == pytest.approx(1.6)
    assert judgement.verdict is Verdict.WATCH


def test_that_the_first_test_is_compared_once() -> None:
    codes = [each.code for each in judge(case(reference=REFERENCE)).checks]
    assert "changed-since-previous" in codes
    assert "changed-since-reference" not in codes


def test_that_a_missing_earlier_value_leaves_the_change_untested() -> None:
    without = draft(COMMISSIONED, VisitKind.COMMISSIONING, found_c=None, left_c=None)
    judgement = judge(case(reference=without))
    assert check(judgement, "changed-since-previous").outcome is Outcome.NOT_TESTED
