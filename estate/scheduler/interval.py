"""The next test window of a valve: every candidate, and the one reason that binds."""

from datetime import date, timedelta

from dateutil.relativedelta import relativedelta

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Outcome
from estate.domain.learned import Learned
from estate.domain.rules.values import RuleSet
from estate.domain.stages import Stage, next_stage
from estate.domain.windows import Candidate, Reason, Window
from estate.scheduler.horizons import drift_candidate, opening, shut_off_candidate
from estate.scheduler.life import ValveLife, shown_interval, stage_changes

_STAGE_WORDS = {
    Stage.FIRST: "First test",
    Stage.SECOND: "Second test",
    Stage.THIRD_LONG: "Third test, no more than one small change so far,",
    Stage.THIRD_SHORT: "Third test, after small changes in both periods or a significant one,",
}
_MOST_BEFORE_STAGES = Stage.THIRD_SHORT


def plan(life: ValveLife, rules: RuleSet, today: date, learned: Learned | None = None) -> Window:
    """Work out the next window of a valve.

    Candidates: the published stages after commissioning or service (D08-80..85), then the interval
    that tests have shown (D08-86); the drift and the shut-off, where they have been learned; the rule
    set's longest interval (T2-07, HSE-10); the strainers (HSE-09, HSE-10); the retest that the last
    visit's findings ask for; at once if never tested.

    Args:
        life: the valve's visits and last judgement.
        rules: the rule set in force at its outlet.
        today: used only for a valve never tested whose day of fitting is not recorded.
        learned: drift and shut-off of the valve; None where no group has been fitted yet.

    Returns:
        All candidates, the earliest `not_after` first; that one binds.
    """
    if life.last is None:
        return Window((_never_tested(life, today),))
    found = [
        _retest(life),
        _stage(life, rules),
        _shown(life, rules),
        drift_candidate(life, rules, learned),
        shut_off_candidate(life, rules, learned),
        _longest(life, rules),
        _strainers(life, rules),
    ]
    candidates = [each for each in found if each is not None]
    if not candidates:
        candidates = [_no_rule(life.last.on)]
    return Window(tuple(sorted(candidates, key=lambda each: each.not_after)))


def _never_tested(life: ValveLife, today: date) -> Candidate:
    day = life.fitted_on or today
    since = f" since it was fitted on {day_words(day)}" if life.fitted_on else ""
    words = f"No test or commissioning is on record{since}: test before the outlet is used."
    return Candidate(day, day, Reason("never-tested", words, "D08-62: commissioning gives the reference"))


def _no_rule(last: date) -> Candidate:
    words = "The rule set in force gives no interval: enter the one that the site's risk assessment states."
    return Candidate(last, last, Reason("no-rule", words, "HSE-09: at a frequency set by risk assessment"))


def _retest(life: ValveLife) -> Candidate | None:
    last = life.last
    if last is None or life.judgement is None:
        return None
    asking = [
        (each.retest_weeks, each)
        for each in life.judgement.checks
        if each.retest_weeks is not None and each.outcome is not Outcome.MET
    ]
    if not asking:
        return None
    weeks, finding = min(asking, key=lambda pair: (pair[0][1], -(pair[1].severity or 0)))
    first, end = (last.on + _weeks(each) for each in weeks)
    return Candidate(
        first, end, Reason(f"retest-{finding.code}", _retest_words(finding, weeks, last.on), finding.source)
    )


def _retest_words(finding: Finding, weeks: tuple[float, float], on: date) -> str:
    when = "before the outlet is used again" if weeks[1] == 0 else f"within {weeks[1]:g} weeks"
    return f"Retest {when} after the visit of {day_words(on)}: {finding.words.split('. ')[0].rstrip('.')}."


def _stage(life: ValveLife, rules: RuleSet) -> Candidate | None:
    reference, last = life.reference, life.last
    if reference is None or last is None:
        return None
    coming = next_stage(rules, reference.on, stage_changes(life, rules))
    if coming is None:
        return None
    stage, (first, end) = coming
    source = rules.get(f"stage.{stage}.to")
    words = (
        f"{_STAGE_WORDS[stage]} {first:g} to {end:g} weeks after the {reference.kind.value} "
        f"of {day_words(reference.on)}."
    )
    opens = max(reference.on + _weeks(first), min(last.on, reference.on + _weeks(end)))
    reason = Reason(f"stage-{str(stage)[0]}", words, source.shown_source if source else "")
    return Candidate(opens, reference.on + _weeks(end), reason)


def _shown(life: ValveLife, rules: RuleSet) -> Candidate | None:
    """After the stages; capped at the short third stage while fewer than two tests have been made."""
    last, reference = life.last, life.reference
    small = rules.get("stage.3.long.to")
    if last is None or reference is None or small is None:
        return None
    if next_stage(rules, reference.on, stage_changes(life, rules)) is not None:
        return None
    cap_weeks = rules.number(f"stage.{_MOST_BEFORE_STAGES}.to") or 0.0
    shown = shown_interval(life, rules)
    if shown is None or (len(life.tests) < 2 and shown > _weeks(cap_weeks)):
        words = (
            f"No longer interval has been shown: {cap_weeks:g} weeks after the test of {day_words(last.on)}."
        )
        return _from(last.on, _weeks(cap_weeks), rules, "shown-interval", words)
    growth = rules.number("policy.growth") or 1.0
    grown = timedelta(days=int(shown.days * growth))
    words = (
        f"{grown.days / 7:.0f} weeks after the visit of {day_words(last.on)}: the longest interval that "
        "earlier tests have shown with no more than a small change"
    )
    words += f", grown by {growth:g}." if growth > 1 else "."
    return _from(last.on, grown, rules, "shown-interval", words)


def _from(last: date, interval: timedelta, rules: RuleSet, code: str, words: str) -> Candidate:
    source = "D08-86: intervals that earlier tests have shown"
    return Candidate(last + opening(interval, rules), last + interval, Reason(code, words, source))


def _longest(life: ValveLife, rules: RuleSet) -> Candidate | None:
    value, last = rules.get("test.maximum-interval"), life.last
    if value is None or last is None:
        return None
    end = last.on + _months(value.number)
    words = f"At most {value.number:g} months after the visit of {day_words(last.on)}."
    opens = last.on + opening(end - last.on, rules)
    return Candidate(opens, end, Reason("longest-interval", words, value.shown_source))


def _strainers(life: ValveLife, rules: RuleSet) -> Candidate | None:
    end, cleaned = strainers_due(life, rules), life.strainers_cleaned_on
    value = rules.get("strainers.interval")
    if end is None or cleaned is None or value is None:
        return None
    words = f"Strainers {value.number:g} months after they were last known clean, {day_words(cleaned)}."
    opens = cleaned + opening(end - cleaned, rules)
    return Candidate(opens, end, Reason("strainers", words, value.shown_source))


def strainers_due(life: ValveLife, rules: RuleSet) -> date | None:
    """Day by which strainers have to be cleaned (HSE-09, HSE-10); None where unknown or there are none."""
    value, cleaned = rules.get("strainers.interval"), life.strainers_cleaned_on
    if value is None or cleaned is None or not life.has_strainers:
        return None
    return cleaned + _months(value.number)


def _weeks(weeks: float) -> timedelta:
    return timedelta(days=round(weeks * 7))


def _months(months: float) -> relativedelta:
    return relativedelta(months=round(months))
