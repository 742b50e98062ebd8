"""The tests of one valve body in order, as the planner needs them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from estate.domain.findings import Judgement
from estate.domain.rules.values import RuleSet
from estate.domain.stages import Change, changes_since_setting
from estate.domain.visits import VisitDraft, VisitKind


@dataclass(frozen=True)
class ValveLife:
    """What the planner knows of one valve in place.

    Attributes:
        fitted_on: day of fitting; None if not recorded.
        visits: visits that count, of this body, in order of date.
        judgement: judgement of the last visit; None if never visited.
        has_strainers: False only where it is recorded that there are none.
    """

    fitted_on: date | None
    visits: tuple[VisitDraft, ...]
    judgement: Judgement | None = None
    has_strainers: bool = True

    @property
    def last(self) -> VisitDraft | None:
        """The last visit that counts."""
        return self.visits[-1] if self.visits else None

    @cached_property
    def reference(self) -> VisitDraft | None:
        """The last commissioning or service; else the first visit, for want of a better (D08-62)."""
        return reference_among(self.visits)

    @cached_property
    def tests(self) -> tuple[VisitDraft, ...]:
        """Tests after the reference in which the mixed temperature was measured as found."""
        reference = self.reference
        if reference is None:
            return ()
        place = next(place for place, each in enumerate(self.visits) if each is reference)
        return tuple(each for each in self.visits[place + 1 :] if each.readings.found_c is not None)

    def changes(self, small_k: float, large_k: float) -> tuple[Change | None, ...]:
        """Class of the change at each test since the level was last set; None where a value is missing."""
        if (small_k, large_k) not in self._changes and self.reference is not None:
            found = changes_since_setting(self.reference, self.tests, small_k, large_k)
            self._changes[small_k, large_k] = found
        return self._changes.get((small_k, large_k), ())

    @cached_property
    def _changes(self) -> dict[tuple[float, float], tuple[Change | None, ...]]:
        return {}

    @cached_property
    def strainers_cleaned_on(self) -> date | None:
        """Last day on which strainers are known to have been cleaned (new ones at fitting count)."""
        return cleaned_among(self.visits, self.fitted_on)


def reference_among(visits: Sequence[VisitDraft]) -> VisitDraft | None:
    """The last commissioning or service among visits in order of date; see `ValveLife.reference`."""
    for each in reversed(visits):
        if each.kind is not VisitKind.IN_SERVICE:
            return each
    return visits[0] if visits else None


def cleaned_among(visits: Sequence[VisitDraft], fitted_on: date | None) -> date | None:
    """The last day of cleaning among visits in order of date; see `ValveLife.strainers_cleaned_on`."""
    for each in reversed(visits):
        if each.readings.strainers_cleaned:
            return each.on
    return fitted_on or (visits[0].on if visits else None)


def shown_interval(life: ValveLife, rules: RuleSet) -> timedelta | None:
    """Longest interval that tests have shown to hold with no more than a small change (D08-86).

    An interval counts from one visit to the next test. The published scheme counts from
    commissioning, so from the third test on the time since an undisturbed setting counts too. A
    significant change wipes out what was shown before it.

    Returns:
        None where nothing has been shown since the last significant change.
    """
    small, large = rules.number("change.small"), rules.number("change.large")
    reference = life.reference
    if small is None or large is None or reference is None:
        return None
    changes = life.changes(small, large)
    shown: timedelta | None = None
    before, settled = reference, reference.on
    for count, (test, change) in enumerate(zip(life.tests, changes, strict=True), start=1):
        held = test.on - (settled if count == 3 else before.on)
        if change is Change.LARGE:
            shown = None
        elif change is not None:
            shown = max(shown or held, held)
        if test.readings.level_reset:
            settled = test.on
        before = test
    return shown


def stage_changes(life: ValveLife, rules: RuleSet) -> Sequence[tuple[date, Change | None]]:
    """Day and class of change of each test since the reference."""
    small, large = rules.number("change.small"), rules.number("change.large")
    if life.reference is None or small is None or large is None:
        return ()
    changes = life.changes(small, large)
    return [(test.on, change) for test, change in zip(life.tests, changes, strict=True)]
