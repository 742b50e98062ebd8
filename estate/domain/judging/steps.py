"""What was seen of the fitting, step by step (D08-50, D08-53, D08-54, TP-07)."""

from collections.abc import Iterator

from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met
from estate.domain.limits import Limit
from estate.domain.procedures import Step, asked_steps

REVERSED = "right-way-round"


def check_steps(case: Case) -> Iterator[Finding]:
    """Judge each step that was answered; one that was not is named by the record, not judged."""
    steps = case.visit.steps
    if not steps:
        return
    for step in asked_steps(case.visit.kind):
        said = steps.said(step.key)
        if said is False and step.wrong:
            yield _failed(case, step, steps.by_key[step.key].remark)
        elif said:
            yield met(f"step-{step.key}", f"{step.words} Yes.", Limit(0.0, step.source))


def _failed(case: Case, step: Step, remark: str) -> Finding:
    severity = case.standards.scald if step.key == REVERSED else Severity.PUT_RIGHT
    return failed(
        f"step-{step.key}",
        f"{step.wrong} {remark}".strip(),
        severity,
        limit=Limit(0.0, step.source),
        action="Put right, then commission the valve anew.",
        retest=case.standards.retest_for(severity),
    )
