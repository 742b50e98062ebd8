"""A failure stands until the same thing is measured again and found in order."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Judgement, Outcome, Severity

_OF_ONE_VISIT = ("instrument-", "changed-", "reading-", "found-")
"""Checks that speak of one visit alone: its instrument, its difference to another, what it found."""


def carry_forward(judgement: Judgement, earlier: Sequence[tuple[date, Judgement]]) -> Judgement:
    """Let failures that a visit did not measure again stand.

    A visit that leaves the shut-off untested does not undo one that found it failed. Of every check that
    the visit did not come to, the latest earlier visit that did decides; if it was to be put right
    or worse, its finding counts on.

    Args:
        judgement: of the last visit.
        earlier: days and judgements of the visits before it, the latest first.

    Returns:
        The judgement with the standing failures in place of what was not tested.
    """
    open_codes = {each.code for each in judgement.not_tested}
    standing: list[Finding] = []
    for day, before in earlier:
        for check in before.checks:
            if check.outcome is Outcome.NOT_TESTED or check.code not in open_codes:
                continue
            open_codes.discard(check.code)
            if _still_counts(check):
                words = f"{check.words} This was on {day_words(day)} and was not tested again."
                standing.append(check._replace(words=words))
    if not standing:
        return judgement
    codes = {each.code for each in standing}
    kept = [each for each in judgement.checks if each.code not in codes]
    return replace(judgement, checks=(*standing, *kept))


def _still_counts(check: Finding) -> bool:
    failed = check.outcome is Outcome.NOT_MET and (check.severity or Severity.NOTE) >= Severity.PUT_RIGHT
    return failed and not check.code.startswith(_OF_ONE_VISIT)
