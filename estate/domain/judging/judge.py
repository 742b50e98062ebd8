"""The one function that judges a visit."""

from estate.domain.findings import Finding, Judgement
from estate.domain.judging.blanks import say_blanks
from estate.domain.judging.case import Case
from estate.domain.judging.change import check_changes
from estate.domain.judging.installation import check_installation
from estate.domain.judging.instrument import check_instrument
from estate.domain.judging.isolation import check_isolations
from estate.domain.judging.person import check_person
from estate.domain.judging.steps import check_steps
from estate.domain.judging.supplies import check_supplies
from estate.domain.judging.temperature import check_temperatures


def judge(case: Case) -> Judgement:
    """Judge one visit under the rule set of its outlet.

    A pure function: the same case gives the same judgement on any day. Nothing is judged that
    was not measured; a missing required value makes the verdict "not tested" at best.
    """
    checks: list[Finding] = [
        *check_temperatures(case),
        *check_changes(case),
        *check_isolations(case),
        *check_supplies(case),
        *check_installation(case),
        *check_instrument(case),
        *check_person(case),
        *check_steps(case),
    ]
    return Judgement(case.standards.rule_set, case.standards.edition, say_blanks(checks, case))
