"""The windows that the rules ask for, each from the few facts that it rests on."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from dateutil.relativedelta import relativedelta

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Judgement, Outcome
from estate.domain.phrases import phrase
from estate.domain.rules.values import RuleSet
from estate.domain.stages import Stage
from estate.domain.visits import VisitKind
from estate.domain.windows import Candidate, Reason
from estate.scheduler.horizons import opening

_STAGE_WORDS = {
    Stage.FIRST: phrase("First test"),
    Stage.SECOND: phrase("Second test"),
    Stage.THIRD_LONG: phrase("Third test, no more than one small change so far,"),
    Stage.THIRD_SHORT: phrase("Third test, after small changes in both periods or a significant one,"),
}
MOST_BEFORE_STAGES = Stage.THIRD_SHORT
"""The stage that an interval is held to while fewer than two tests have been made."""

SHOWN_STAGE = "stage.3.long.to"
"""A rule set without this value knows no interval that tests have shown."""


@dataclass(frozen=True, slots=True)
class StageFacts:
    """The stage that comes next.

    Attributes:
        weeks: its first and last week after the reference.
        began, kind: of the reference.
        last: day of the last visit.
    """

    stage: Stage
    weeks: tuple[float, float]
    began: date
    kind: VisitKind
    last: date


def never_tested(fitted_on: date | None, today: date) -> Candidate:
    """At once, for a valve without a visit."""
    day = fitted_on or today
    if fitted_on:
        words = phrase(
            "No test or commissioning is on record since it was fitted on {day}: test before the outlet is "
            "used.",
            day=day_words(day),
        )
    else:
        words = phrase("No test or commissioning is on record: test before the outlet is used.")
    return Candidate(day, day, Reason("never-tested", words, "D08-62: commissioning gives the reference"))


def no_rule(last: date) -> Candidate:
    """At once, where no rule gives an interval."""
    words = phrase(
        "The rule set in force gives no interval: enter the one that the site's risk assessment states."
    )
    return Candidate(last, last, Reason("no-rule", words, "HSE-09: at a frequency set by risk assessment"))


def retest_asked(judgement: Judgement | None) -> tuple[tuple[float, float], Finding] | None:
    """The earliest retest that a judgement asks for, in weeks from its visit, with the finding; None if none.

    Of findings that ask for the same, the gravest speaks.
    """
    if judgement is None:
        return None
    asking = [
        (each.retest_weeks, each)
        for each in judgement.checks
        if each.retest_weeks is not None and each.outcome is not Outcome.MET
    ]
    return min(asking, key=lambda pair: (pair[0][1], -(pair[1].severity or 0))) if asking else None


def retest_candidate(last: date, judgement: Judgement | None) -> Candidate | None:
    """The retest that the last visit's findings ask for."""
    asked = retest_asked(judgement)
    if asked is None:
        return None
    weeks, finding = asked
    first_words = finding.words.split(". ")[0].rstrip(".")
    day = day_words(last)
    if weeks[1] == 0:
        words = phrase(
            "Retest before the outlet is used again after the visit of {day}: {why}.",
            day=day,
            why=first_words,
        )
    else:
        words = phrase(
            "Retest within {weeks:g} weeks after the visit of {day}: {why}.",
            weeks=weeks[1],
            day=day,
            why=first_words,
        )
    first, end = (last + in_weeks(each) for each in weeks)
    return Candidate(first, end, Reason(f"retest-{finding.code}", words, finding.source))


def stage_candidate(facts: StageFacts, rules: RuleSet) -> Candidate:
    """The published stage that comes next (D08-80..85)."""
    (first, end), began = facts.weeks, facts.began
    words = phrase(
        "{test} {first:g} to {end:g} weeks after the {kind} of {day}.",
        test=_STAGE_WORDS[facts.stage],
        first=first,
        end=end,
        kind=facts.kind.words,
        day=day_words(began),
    )
    opens = max(began + in_weeks(first), min(facts.last, began + in_weeks(end)))
    source = rules.values[f"stage.{facts.stage}.to"].shown_source
    return Candidate(opens, began + in_weeks(end), Reason(f"stage-{str(facts.stage)[0]}", words, source))


def shown_candidate(last: date, tests: int, shown: timedelta | None, rules: RuleSet) -> Candidate | None:
    """The interval that tests have shown (D08-86); the short third stage while it rests on too little.

    Args:
        last: day of the last visit.
        tests: how many there were since the reference.
        shown: the longest interval; None where nothing has been shown.
        rules: the rule set in force.
    """
    if rules.get(SHOWN_STAGE) is None:
        return None
    cap_weeks = rules.number(f"stage.{MOST_BEFORE_STAGES}.to") or 0.0
    if shown is None or (tests < 2 and shown > in_weeks(cap_weeks)):
        words = phrase(
            "No longer interval has been shown: {weeks:g} weeks after the test of {day}.",
            weeks=cap_weeks,
            day=day_words(last),
        )
        return _shown(last, in_weeks(cap_weeks), words, rules)
    growth = rules.number("policy.growth") or 1.0
    grown = timedelta(days=int(shown.days * growth))
    weeks, day = grown.days / 7, day_words(last)
    if growth > 1:
        words = phrase(
            "{weeks:.0f} weeks after the visit of {day}: the longest interval that earlier tests have shown "
            "with no more than a small change, grown by {growth:g}.",
            weeks=weeks,
            day=day,
            growth=growth,
        )
    else:
        words = phrase(
            "{weeks:.0f} weeks after the visit of {day}: the longest interval that earlier tests have shown "
            "with no more than a small change.",
            weeks=weeks,
            day=day,
        )
    return _shown(last, grown, words, rules)


def _shown(last: date, interval: timedelta, words: str, rules: RuleSet) -> Candidate:
    reason = Reason("shown-interval", words, "D08-86: intervals that earlier tests have shown")
    return Candidate(last + opening(interval, rules), last + interval, reason)


def longest_candidate(last: date, rules: RuleSet) -> Candidate | None:
    """The rule set's longest interval (T2-07, HSE-10)."""
    value = rules.get("test.maximum-interval")
    if value is None:
        return None
    end = _months_after(last, value.number)
    words = phrase(
        "At most {months:g} months after the visit of {day}.", months=value.number, day=day_words(last)
    )
    opens = last + opening(end - last, rules)
    return Candidate(opens, end, Reason("longest-interval", words, value.shown_source))


def strainers_candidate(cleaned: date | None, rules: RuleSet) -> Candidate | None:
    """The strainers, from the day on which they were last known clean; None for none."""
    value, end = rules.get("strainers.interval"), strainers_end(cleaned, rules)
    if cleaned is None or value is None or end is None:
        return None
    words = phrase(
        "Strainers {months:g} months after they were last known clean, {day}.",
        months=value.number,
        day=day_words(cleaned),
    )
    opens = cleaned + opening(end - cleaned, rules)
    return Candidate(opens, end, Reason("strainers", words, value.shown_source))


def strainers_end(cleaned: date | None, rules: RuleSet) -> date | None:
    """Day by which strainers last clean on a day have to be cleaned (HSE-09, HSE-10)."""
    months = rules.number("strainers.interval")
    return None if cleaned is None or months is None else _months_after(cleaned, months)


def in_weeks(weeks: float) -> timedelta:
    """Whole days of some weeks."""
    return timedelta(days=round(weeks * 7))


@lru_cache(maxsize=8192)
def _months_after(day: date, months: float) -> date:
    # kept, because the valves of an estate share the few days on which rounds are made
    return day + relativedelta(months=round(months))
