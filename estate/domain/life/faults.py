"""Faults that stand: what a visit found to be put right and no later visit found in order."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from estate.domain.findings import Severity
from estate.domain.judging.instrument import OUT_OF_DATE
from estate.domain.visits import VisitKind

_LEFT: Final = "left-above-ceiling"
_CHANGES: Final = ("changed-since-previous", "changed-since-reference")


@dataclass(frozen=True, slots=True)
class FailedCheck:
    """A check of a visit that must be put right or worse.

    Attributes:
        asks_retest: whether it is done only when a later visit found it in order.
    """

    code: str
    severity: Severity
    words: str
    asks_retest: bool

    @property
    def short(self) -> str:
        """What was found, in one sentence without its full stop."""
        return self.words.partition(". ")[0].rstrip(".")


@dataclass(frozen=True, slots=True)
class JudgedVisit:
    """A visit that counts, with what its judgement said.

    Attributes:
        failed: checks to be put right or worse.
        in_order: codes of checks that were met, or missed by so little that nothing has to be put right.
        satisfactory: whether its verdict was.
        corrects: the entry that it corrects.
    """

    id: int
    outlet_id: int
    kind: VisitKind
    on: date
    failed: tuple[FailedCheck, ...] = ()
    in_order: frozenset[str] = frozenset()
    satisfactory: bool = False
    corrects: int | None = None

    @property
    def failed_codes(self) -> frozenset[str]:
        """Codes of the failed checks."""
        return frozenset(each.code for each in self.failed)

    @property
    def doubtful(self) -> bool:
        """Whether it was made with an instrument out of date and nobody justified that."""
        return OUT_OF_DATE in self.failed_codes

    @property
    def answers(self) -> frozenset[str]:
        """Codes of failed checks of earlier visits that it shows to be in order.

        A doubtful visit shows nothing. What was found too hot is answered by what is left in order later; a
        change is answered where the reference is set anew and the valve left in order (D08-64).
        """
        if self.doubtful:
            return frozenset()
        found = set(self.in_order)
        if _LEFT in found:
            found.add("found-above-ceiling")
            if self.kind.sets_reference:
                found.update(_CHANGES)
        return frozenset(found) - self.failed_codes


@dataclass(frozen=True, slots=True)
class StandingFault:
    """A failed check that stands.

    Attributes:
        visit_id, on: the latest visit that found it.
        since: the day since when it stands.
    """

    check: FailedCheck
    visit_id: int
    outlet_id: int
    on: date
    since: date

    @property
    def code(self) -> str:
        """Code of the check."""
        return self.check.code


@dataclass(frozen=True, slots=True)
class Faults:
    """What the visits of one body say of its faults.

    Attributes:
        standing: worst first.
        answered: code and place in the series of a failed check, and the place of the visit that answered it.
    """

    series: tuple[JudgedVisit, ...]
    standing: tuple[StandingFault, ...] = ()
    answered: tuple[tuple[str, int, int], ...] = field(default=())

    def answer_to(self, findings: Iterable[tuple[int, str]]) -> JudgedVisit | None:
        """The visit by which the last of some findings was found in order; None while one is not.

        Args:
            findings: pairs of a visit's id and a code; those whose visit does not count or no longer failed
                the check are left out.
        """
        places = self._places
        last = -1
        for visit_id, code in findings:
            place = places.get(visit_id)
            if place is None or code not in self.series[place].failed_codes:
                continue
            ends = [end for known, begin, end in self.answered if known == code and begin <= place < end]
            if not ends:
                return None
            last = max(last, *ends)
        return self.series[last] if last >= 0 else None

    @property
    def _places(self) -> dict[int, int]:
        """Places in the series by a visit's id; a corrected entry goes by the one that corrects it."""
        own = {each.id: place for place, each in enumerate(self.series)}
        corrected = {each.corrects: own[each.id] for each in self.series if each.corrects is not None}
        return corrected | own

    def holds(self, findings: Iterable[tuple[int, str]]) -> bool:
        """Whether some visit that counts still says one of the findings."""
        places = self._places
        return any(
            visit_id in places and code in self.series[places[visit_id]].failed_codes
            for visit_id, code in findings
        )

    def stand(self, findings: Iterable[tuple[int, str]]) -> bool:
        """Whether one of the findings is not answered yet."""
        kept = set(findings)
        return self.holds(kept) and self.answer_to(kept) is None


def read_faults(series: Sequence[JudgedVisit]) -> Faults:
    """Read the faults of one body from its visits that count, in order.

    A fault stands until a later visit finds the same check in order (see `JudgedVisit.answers`); a visit
    that left the check untested leaves it standing.
    """
    standing: dict[str, tuple[int, StandingFault]] = {}
    answered: list[tuple[str, int, int]] = []
    for place, visit in enumerate(series):
        for code in visit.answers & standing.keys():
            answered.append((code, standing.pop(code)[0], place))
        for check in visit.failed:
            begun, before = standing.get(check.code, (place, None))
            since = visit.on if before is None else before.since
            standing[check.code] = (begun, StandingFault(check, visit.id, visit.outlet_id, visit.on, since))
    worst = sorted((each for _, each in standing.values()), key=lambda each: -each.check.severity)
    return Faults(tuple(series), tuple(worst), tuple(answered))
