"""The next test window of a valve: every candidate, and the one reason that binds."""

from datetime import date

from estate.domain.learned import Learned
from estate.domain.rules.values import RuleSet
from estate.domain.stages import next_stage
from estate.domain.visits import VisitDraft
from estate.domain.windows import Candidate, Window
from estate.scheduler import candidates
from estate.scheduler.candidates import StageFacts
from estate.scheduler.horizons import drift_candidate, shut_off_candidate
from estate.scheduler.life import ValveLife, shown_interval, stage_changes


def plan(life: ValveLife, rules: RuleSet, today: date, learned: Learned | None = None) -> Window:
    """Work out the next window of a valve.

    Candidates: the published stages after commissioning or service (D08-80..85), then the interval
    that tests have shown (D08-86); the drift and the shut-off, where they have been learned; the rule
    set's longest interval (T2-07, HSE-10); the strainers (HSE-09, HSE-10); the retest that the last
    visit's findings ask for; at once if never tested. `estate.scheduler.planning` does the same for many.

    Args:
        life: the valve's visits and last judgement.
        rules: the rule set in force at its outlet.
        today: used only for a valve never tested whose day of fitting is not recorded.
        learned: drift and shut-off of the valve; None where no group has been fitted yet.

    Returns:
        All candidates, the earliest `not_after` first; that one binds.
    """
    if life.last is None or life.reference is None:
        return Window((candidates.never_tested(life.fitted_on, today),))
    last = life.last.on
    found = [
        candidates.retest_candidate(last, life.judgement),
        _staged(life, life.reference, last, rules),
        drift_candidate(last, rules, learned.drift if learned else None),
        shut_off_candidate(last, rules, learned.shut_off if learned else None),
        candidates.longest_candidate(last, rules),
        candidates.strainers_candidate(life.strainers_cleaned_on if life.has_strainers else None, rules),
    ]
    return Window(in_order(last, found))


def in_order(last: date, found: list[Candidate | None]) -> tuple[Candidate, ...]:
    """The candidates that there are, the earliest first; one that says so where there is none."""
    asked = [each for each in found if each is not None] or [candidates.no_rule(last)]
    return tuple(sorted(asked, key=lambda each: each.not_after))


def _staged(life: ValveLife, reference: VisitDraft, last: date, rules: RuleSet) -> Candidate | None:
    """The stage that comes next; after the stages the interval shown."""
    coming = next_stage(rules, reference.on, stage_changes(life, rules))
    if coming is None:
        return candidates.shown_candidate(last, len(life.tests), shown_interval(life, rules), rules)
    facts = StageFacts(*coming, reference.on, reference.kind, last)
    return candidates.stage_candidate(facts, rules)
