"""Courses of a valve for the tests: commissioned, tested once in order, then found as a test says."""

from dataclasses import replace
from datetime import date
from typing import Any

from estate.domain.diagnosis.course import Companion, Course
from estate.domain.diagnosis.diagnose import Diagnosis, Suspect, diagnose
from estate.domain.diagnosis.evidence import Bearing, Evidence
from estate.domain.judging.case import Case
from estate.domain.judging.judge import judge
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Valve
from estate.domain.visits import VisitDraft, VisitKind
from tests.builders import COMMISSIONED, TODAY, case, draft, healthcare, valve

RULES = healthcare()
BODY = valve()
BEGAN = draft(COMMISSIONED, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)
TESTED = draft(date(2026, 3, 2), found_c=41.2, left_c=41.2)
UNCHECKED = {"strainers_cleaned": None, "check_valves_good": None, "isolating_valves_open": None}


def course(
    *,
    earlier: tuple[VisitDraft, ...] = (BEGAN, TESTED),
    on_case: dict[str, Any] | None = None,
    body: Valve = BODY,
    rules: RuleSet = RULES,
    **fields: Any,
) -> Course:
    """The course of a visit today; readings and fields of the course by name."""
    known = {each: fields.pop(each) for each in tuple(fields) if each in Course.__dataclass_fields__}
    reading = {"found_c": 43.6, **UNCHECKED, **fields}
    visit = draft(TODAY, **{"left_c": reading["found_c"], **reading})
    whole: Case = replace(
        case(
            visit,
            rules=rules,
            valve=body,
            previous=earlier[-1] if earlier else None,
            reference=earlier[0] if earlier else None,
        ),
        **(on_case or {}),
    )
    if not earlier:
        whole = replace(whole, previous=None, reference=None)
    return Course(whole, body, judge(whole), earlier, **known)


def found(**fields: Any) -> Diagnosis:
    """The diagnosis of a course."""
    return diagnose(course(**fields))


def suspect(diagnosis: Diagnosis, code: str) -> Suspect:
    """The one weighing of a cause."""
    (one,) = [each for each in (*diagnosis.suspects, *diagnosis.others) if each.cause.code == code]
    return one


def bearing(diagnosis: Diagnosis, code: str, which: Bearing) -> str:
    """All words that bear on a cause in one way."""
    return " ".join(each.words for each in evidence(diagnosis, code) if each.bearing is which)


def evidence(diagnosis: Diagnosis, code: str) -> tuple[Evidence, ...]:
    """All that bears on a cause."""
    return suspect(diagnosis, code).evidence


def others(*changes: float, **fields: float) -> tuple[Companion, ...]:
    """Other valves of the day, read with the same instrument, with their changes in K."""
    return tuple(Companion(f"O{place}", True, each, **fields) for place, each in enumerate(changes))
