"""What judging a visit says: checks, findings and the verdict."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import Final, NamedTuple


class Severity(IntEnum):
    """How much a finding matters, mildest first."""

    NOTE = 1
    WATCH = 2
    PUT_RIGHT = 3
    OUT_OF_USE = 4

    @property
    def words(self) -> str:
        """As it is shown to a person."""
        return {1: "note", 2: "watch", 3: "put right", 4: "take out of use"}[self.value]


class Outcome(StrEnum):
    """What one check came to; nothing is judged that was not measured."""

    MET = "met"
    NOT_MET = "not met"
    NOT_TESTED = "not tested"


class Verdict(StrEnum):
    """The word for a whole visit, best first; missing required values outrank all but real failures."""

    SATISFACTORY = "satisfactory"
    NOTE = "note"
    WATCH = "watch"
    NOT_TESTED = "not tested"
    PUT_RIGHT = "put right"
    OUT_OF_USE = "take out of use"

    @property
    def rank(self) -> int:
        """0 for satisfactory up to 5 for take out of use."""
        return _VERDICT_RANK[self]

    @property
    def satisfactory(self) -> bool:
        """Whether everything required was measured and nothing must be put right."""
        return self.rank <= Verdict.WATCH.rank


_VERDICT_RANK: Final = {each: place for place, each in enumerate(Verdict)}


class Finding(NamedTuple):
    """One check and what it came to; a named tuple, for a sheet makes hundreds of thousands of them.

    Attributes:
        code: stable name of the check, such as ``left-above-ceiling``.
        severity: how much it matters where not met; None where met or only not tested.
        required: whether the rule set requires the value (a missing one then means "not tested" overall).
        measured, limit: numbers in `unit`; None where there is none.
        words: what was found, with its numbers.
        action: what to do now, in order; empty if nothing.
        source: where the limit comes from, ready to show; starts with the fact's id.
        retest_weeks: retest window asked for, weeks from the visit;
            (0, 0) is before the outlet is used again.
    """

    code: str
    outcome: Outcome
    words: str
    severity: Severity | None = None
    required: bool = False
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    action: str = ""
    retest_weeks: tuple[float, float] | None = None


_MET, _NOT_MET = Outcome.MET, Outcome.NOT_MET
_BY_SEVERITY = {
    0: Verdict.SATISFACTORY,
    Severity.NOTE: Verdict.NOTE,
    Severity.WATCH: Verdict.WATCH,
    Severity.PUT_RIGHT: Verdict.PUT_RIGHT,
    Severity.OUT_OF_USE: Verdict.OUT_OF_USE,
}


@dataclass(frozen=True, slots=True)
class Judgement:
    """All checks of one visit under one rule set."""

    rule_set: str
    rule_set_edition: str
    checks: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Checks that were not met, worst first."""
        failed = [each for each in self.checks if each.outcome is Outcome.NOT_MET]
        return tuple(sorted(failed, key=lambda each: -(each.severity or Severity.NOTE)))

    @property
    def not_tested(self) -> tuple[Finding, ...]:
        """Checks whose value is missing, required ones first."""
        missing = [each for each in self.checks if each.outcome is Outcome.NOT_TESTED]
        return tuple(sorted(missing, key=lambda each: not each.required))

    @property
    def verdict(self) -> Verdict:
        """The worst finding, where a missing required value outranks a note or a watch."""
        return verdict_of(self.checks)


def verdict_of(checks: Sequence[Finding], any_met: bool = False) -> Verdict:
    """The worst finding, where a missing required value outranks a note or a watch.

    Args:
        checks: of a visit; those that were met, and those whose value is missing but not required, may be
            left out.
        any_met: whether a check was met that is left out.
    """
    met, not_met = _MET, _NOT_MET
    severities = [each.severity or Severity.NOTE for each in checks if each.outcome is not_met]
    worst = max(severities, default=0)
    if worst < Severity.PUT_RIGHT:
        lacking = [each for each in checks if each.required and each.outcome not in (met, not_met)]
        if lacking or not (any_met or any(each.outcome is met for each in checks)):
            return Verdict.NOT_TESTED
    return _BY_SEVERITY[worst]
