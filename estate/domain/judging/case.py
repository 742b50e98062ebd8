"""One visit to be judged, with all that the checks compare it to."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.instruments import Instrument
from estate.domain.life.people import Person
from estate.domain.limits import Limit, Limits, limits_for
from estate.domain.places import Outlet, UserGroup
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Valve
from estate.domain.visits import Readings, VisitDraft, VisitKind


@dataclass(frozen=True)
class Case:
    """One visit and its background.

    Attributes:
        outlets: every outlet that the valve serves, the tested one first.
        instrument: the instrument used, if it is in the register.
        previous: the last visit before this one that counts; None at the first.
        reference: the last commissioning or service before this visit (D08-62, D08-64).
        previous_instrument: the instrument of `previous`.
        strainers_due: day by which strainers had to be cleaned, from the last cleaning before this visit.
        person: who made the visit, where the register knows the name.
    """

    visit: VisitDraft
    valve: Valve
    outlets: tuple[Outlet, ...]
    rules: RuleSet
    instrument: Instrument | None = None
    previous: VisitDraft | None = None
    reference: VisitDraft | None = None
    previous_instrument: Instrument | None = None
    strainers_due: date | None = None
    person: Person | None = None

    @property
    def readings(self) -> Readings:
        """What was measured."""
        return self.visit.readings

    @cached_property
    def limits(self) -> Limits:
        """The temperature limits that hold for this valve."""
        return limits_for(self.outlets, self.valve, self.rules)

    @property
    def users(self) -> UserGroup:
        """The most vulnerable group among the outlets served."""
        return max((each.user_group for each in self.outlets), key=lambda group: group.vulnerability)

    @property
    def is_test(self) -> bool:
        """Whether the visit is an in-service test: only those have an as-found value to compare."""
        return self.visit.kind is VisitKind.IN_SERVICE

    @property
    def uncertainty_k(self) -> float | None:
        """Standard uncertainty of the thermometer, K; None if the instrument is not known."""
        return None if self.instrument is None else self.instrument.standard_uncertainty_k

    def retest(self, name: str) -> tuple[float, float] | None:
        """The retest window asked for by name such as ``put-right``, in weeks from the visit."""
        last = self.rules.number(f"retest.{name}.to")
        return None if last is None else (self.rules.number(f"retest.{name}.from") or 0.0, last)

    def scald_severity(self) -> Severity:
        """Out of use where people at risk draw the water, put right where robust staff do (HSE-15)."""
        return Severity.OUT_OF_USE if self.users.at_risk else Severity.PUT_RIGHT

    def retest_for(self, severity: Severity) -> tuple[float, float] | None:
        """The retest that a severity asks for."""
        names = {Severity.OUT_OF_USE: "out-of-use", Severity.PUT_RIGHT: "put-right"}
        return self.retest(names[severity]) if severity in names else None


def met(code: str, words: str, limit: Limit | None, measured: float | None = None, unit: str = "") -> Finding:
    """A check that was met."""
    return Finding(
        code=code,
        outcome=Outcome.MET,
        words=words,
        measured=measured,
        limit=limit.value if limit is not None and unit else None,
        unit=unit,
        source="" if limit is None else limit.source,
    )


def failed(
    code: str,
    words: str,
    severity: Severity,
    *,
    limit: Limit | None = None,
    measured: float | None = None,
    unit: str = "",
    action: str = "",
    retest: tuple[float, float] | None = None,
) -> Finding:
    """A check that was not met."""
    return Finding(
        code=code,
        outcome=Outcome.NOT_MET,
        words=words,
        severity=severity,
        measured=measured,
        limit=limit.value if limit is not None and unit else None,
        unit=unit,
        source="" if limit is None else limit.source,
        action=action,
        retest_weeks=retest,
    )


def not_tested(code: str, words: str, *, required: bool = False, case: Case | None = None) -> Finding:
    """A check whose value is missing; a required one asks for the test again."""
    retest = case.retest("not-tested") if case is not None and required else None
    action = "Make the missing measurement." if required else ""
    return Finding(code, Outcome.NOT_TESTED, words, required=required, action=action, retest_weeks=retest)
