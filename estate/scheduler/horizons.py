"""The dates that drift and shut-off ask for, within the risk that the site accepts."""

from datetime import date, timedelta

from estate.domain.dates import day_words
from estate.domain.learned import DriftEstimate, ShutOffEstimate
from estate.domain.phrases import phrase, together
from estate.domain.rules.values import RuleSet
from estate.domain.shares import percent
from estate.domain.standing import PUT_RIGHT
from estate.domain.windows import Candidate, Reason

METHOD = "this register's own estimate from its readings (docs/how-dates-are-found.md)"


def opening(interval: timedelta, rules: RuleSet) -> timedelta:
    """When a window opens: the share of its interval that the published windows leave (24 of 28 weeks)."""
    share = rules.number("window.opening")
    return interval if share is None else timedelta(days=round(interval.days * share))


def drift_candidate(on: date, rules: RuleSet, drift: DriftEstimate | None) -> Candidate | None:
    """The longest interval within the accepted chance to reach the ceiling, and within a small change.

    Args:
        on: day of the last visit.
        rules: the rule set in force.
        drift: what is known of the valve.

    Returns:
        None where nothing is known of the drift, or where the valve has no ceiling.
    """
    if drift is None or drift.horizon_weeks is None or drift.accepted_risk is None:
        return None
    words: str = phrase(
        "Level {level:.1f} ± {level_sd:.1f} °C, drift {drift:+.3f} ± {drift_sd:.3f} K a week: the chance to "
        "reach the ceiling stays within {risk} for {weeks:.1f} weeks",
        level=drift.level_c,
        level_sd=2 * drift.level_sd_k,
        drift=drift.drift_k_per_week,
        drift_sd=2 * drift.drift_sd,
        risk=percent(drift.accepted_risk, 1),
        weeks=drift.horizon_weeks,
    )
    weeks = drift.horizon_weeks
    large = rules.number("change.large")
    if large is not None and abs(drift.drift_k_per_week) * weeks > large:
        weeks = large / abs(drift.drift_k_per_week)
        words = phrase(
            "{chance}, and the expected change stays within {large:g} K for {weeks:.1f} weeks",
            chance=words,
            large=large,
            weeks=weeks,
        )
    return _within(on, rules, "drift", weeks, words)


def shut_off_candidate(on: date, rules: RuleSet, estimate: ShutOffEstimate | None) -> Candidate | None:
    """The longest interval within the accepted share of time without a working shut-off (PFD-01, PFD-02).

    Args:
        on: day of the last visit.
        rules: the rule set in force.
        estimate: what is known of the valve.

    Returns:
        None where nothing is known, or no share is accepted.
    """
    if estimate is None or estimate.horizon_weeks is None or estimate.accepted_share is None:
        return None
    words = phrase(
        "Shut-off: {rate:.3f} failures a year expected ({failures} found, {years:.1f} years shown in order): "
        "without it at most {share} of the time if tested every {weeks:.1f} weeks",
        rate=estimate.rate_per_year,
        failures=estimate.failures,
        years=estimate.passed_years,
        share=percent(estimate.accepted_share),
        weeks=estimate.horizon_weeks,
    )
    return _within(on, rules, "shut-off", estimate.horizon_weeks, words)


def _within(on: date, rules: RuleSet, code: str, weeks: float, words: str) -> Candidate:
    """A window that ends after some weeks; below the floor it ends there, and the valve is put right."""
    floor = rules.get("policy.floor")
    words = phrase("{asked}, after the visit of {day}.", asked=words, day=day_words(on))
    if floor is not None and weeks < floor.number:
        below = phrase(
            "Below the floor of {weeks:g} weeks: put the valve right, do not test it more often.",
            weeks=floor.number,
        )
        words = together(words, below)
        weeks, code = floor.number, f"{code}-{PUT_RIGHT}"
    interval = timedelta(days=int(weeks * 7))
    return Candidate(on + opening(interval, rules), on + interval, Reason(code, words, METHOD))
