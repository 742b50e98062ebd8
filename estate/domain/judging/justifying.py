"""A visit with an instrument out of date counts only when a person says why it may."""

from dataclasses import dataclass, replace
from datetime import datetime

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.judging.instrument import OUT_OF_DATE


@dataclass(frozen=True, slots=True)
class Justification:
    """Why a visit counts though its instrument was out of date; `at` is the moment of entry, UTC."""

    who: str
    at: datetime
    why: str
    id: int = 0


def justified(judgement: Judgement, said: Justification) -> Judgement:
    """The judgement with the instrument's finding as a note that tells who justified it, and why."""
    return replace(judgement, checks=tuple(_lighter(each, said) for each in judgement.checks))


def _lighter(check: Finding, said: Justification) -> Finding:
    if check.code != OUT_OF_DATE or check.outcome is not Outcome.NOT_MET:
        return check
    words = f"{check.words}. Counts all the same, said {said.who} on {day_words(said.at.date())}: {said.why}"
    return check._replace(words=words, severity=Severity.NOTE, action="", retest_weeks=None)
