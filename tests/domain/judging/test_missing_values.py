"""No combination of missing values ever yields a pass."""

from dataclasses import fields, replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from estate.domain.findings import Outcome, Verdict
from estate.domain.judging.judge import judge
from estate.domain.visits import Isolation, Readings, VisitKind
from tests.builders import GOOD, case, draft

ISOLATIONS = ("cold_isolated", "hot_isolated")
PLAIN = tuple(each.name for each in fields(Readings) if each.name not in ISOLATIONS)
INNER = tuple(f"{outer}.{each.name}" for outer in ISOLATIONS for each in fields(Isolation))


def blanked(readings: Readings, names: set[str]) -> Readings:
    changed: dict[str, Any] = {name: None for name in names if "." not in name}
    for outer in ISOLATIONS:
        inner = {name.split(".")[1]: None for name in names if name.startswith(f"{outer}.")}
        changed[outer] = replace(getattr(readings, outer), **inner)
    return replace(readings, **changed)


def lacks_required(names: set[str]) -> bool:
    left_known = "left_c" not in names or ("found_c" not in names and "adjusted" not in names)
    proof = {"cold_isolated.residual_ml_min", "cold_isolated.stabilised_c"} <= names
    return not left_known or proof or bool(names & {"hot_c", "cold_c", "found_c"})


@given(st.sets(st.sampled_from(PLAIN + INNER)))
def test_that_a_missing_required_value_is_never_a_pass(names: set[str]) -> None:
    judgement = judge(case(draft(readings=blanked(GOOD, names))))
    assert judgement.verdict.satisfactory is not lacks_required(names)


@given(st.sets(st.sampled_from(PLAIN + INNER)), st.floats(20, 70), st.floats(0, 2000))
def test_that_leaving_values_out_never_makes_a_check_met_that_was_not(
    names: set[str], mixed: float, flow: float
) -> None:
    full = replace(
        GOOD, found_c=mixed, left_c=mixed, cold_isolated=replace(GOOD.cold_isolated, residual_ml_min=flow)
    )
    before = {each.code: each.outcome for each in judge(case(draft(readings=full))).checks}
    after = judge(case(draft(readings=blanked(full, names)))).checks
    fallback = {"pressure-ratio", "cold-isolated-stabilised"}  # they judge by another measured value instead
    for each in after:
        if each.outcome is Outcome.MET and each.code not in fallback:
            assert before[each.code] is Outcome.MET


@given(st.sampled_from(list(VisitKind)))
def test_that_a_visit_with_nothing_measured_is_not_tested(kind: VisitKind) -> None:
    judgement = judge(case(draft(kind=kind, readings=Readings())))
    assert judgement.verdict is Verdict.NOT_TESTED
    assert all(
        each.outcome is Outcome.NOT_TESTED
        or each.code
        in (
            "pipe-too-long",
            "class-too-low",
            "designation-unfit",
            "strainers-overdue",
            "instrument-out-of-calibration",
            "instrument-of-other-kind",
        )
        for each in judgement.checks
    )
