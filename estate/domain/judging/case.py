"""One visit to be judged, with all that the checks compare it to."""

from dataclasses import dataclass
from datetime import date

from estate.domain.instruments import Instrument
from estate.domain.judging.standards import Standards
from estate.domain.life.people import Person
from estate.domain.visits import Readings, VisitDraft, VisitKind


@dataclass(frozen=True, slots=True)
class Case:
    """One visit and its background.

    Attributes:
        standards: of the valve and its outlets, under the rules in force.
        pipe_m: the longest blended pipe to an outlet; None where none is measured.
        instrument: the instrument used, if it is in the register.
        previous: the last visit before this one that counts; None at the first.
        reference: the last commissioning or service before this visit (D08-62, D08-64).
        previous_instrument: the instrument of `previous`.
        strainers_due: day by which strainers had to be cleaned, from the last cleaning before this visit.
        person: who made the visit, where the register knows the name.
    """

    visit: VisitDraft
    standards: Standards
    pipe_m: float | None = None
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

    @property
    def is_test(self) -> bool:
        """Whether the visit is an in-service test: only those have an as-found value to compare."""
        return self.visit.kind is VisitKind.IN_SERVICE

    @property
    def uncertainty_k(self) -> float | None:
        """Standard uncertainty of the thermometer, K; None if the instrument is not known."""
        return None if self.instrument is None else self.instrument.standard_uncertainty_k
