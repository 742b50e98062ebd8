"""The one function that orders likely causes and the checks that would tell them apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from estate.domain.diagnosis.causes import BEFORE, CAUSES, Cause
from estate.domain.diagnosis.course import Course
from estate.domain.diagnosis.evidence import Bearing, Evidence
from estate.domain.phrases import phrase

ORDERING = phrase(
    "What was seen comes first, then causes by how many things speak for them less how many speak against, "
    "and of equals the one that the trade checks first. The order is not a probability."
)
SCALD = phrase(
    "Hot water can scald: keep the outlet out of use until it was put right and tested again. Isolate hot "
    "and cold before opening anything, and clean and disinfect tools and strainers between valves."
)
CAUTIONS = (
    phrase(
        "These are suggestions from the readings, not findings: a competent person decides. The maker's "
        "instructions and the site's risk assessment come first."
    ),
    SCALD,
    phrase("Never re-adjust to make up for a fault: the three checks of D08-72 come before the adjuster."),
)
NOTHING_AMISS = phrase("Nothing found at that visit asks for a diagnosis.")
_SYMPTOMS = (
    "found-",
    "left-",
    "small-draw-",
    "changed-",
    "cold-isolated-",
    "hot-isolated-",
    "supplies-",
    "cold-too-",
    "hot-too-",
    "pressure-ratio",
    "differential-",
    "reading-unlikely",
    "step-right-way-round",
)


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause with what bears on it."""

    cause: Cause
    evidence: tuple[Evidence, ...]

    def count(self, bearing: Bearing) -> int:
        """How many things bear on it in one way."""
        return sum(each.bearing is bearing for each in self.evidence)

    @property
    def suspected(self) -> bool:
        """Whether anything speaks for it."""
        return self.count(Bearing.SEEN) + self.count(Bearing.FOR) > 0

    @property
    def balance(self) -> int:
        """Things for it less things against."""
        return self.count(Bearing.SEEN) + self.count(Bearing.FOR) - self.count(Bearing.AGAINST)


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A check to make.

    Attributes:
        shows: what it shows if one of `points_to` is the cause.
        points_to: names of the suspects that it would show.
        tells_apart: whether it would tell the first suspects apart.
    """

    words: str
    shows: str
    points_to: tuple[str, ...]
    source: str
    tells_apart: bool = False


@dataclass(frozen=True, slots=True)
class Wanted:
    """A measurement that was not made, and the causes on which it would bear."""

    words: str
    bears_on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Likely causes of what one visit found.

    Attributes:
        symptoms: what asks for it; empty where nothing does.
        suspects: causes for which something speaks, likeliest first.
        others: causes for which nothing speaks.
        checks: what to do next, in order; of those that tell the first suspects apart the first is marked.
        wanted: measurements that would help, the most helpful first.
    """

    on: date
    symptoms: tuple[str, ...]
    suspects: tuple[Suspect, ...] = ()
    others: tuple[Suspect, ...] = ()
    checks: tuple[NextCheck, ...] = ()
    wanted: tuple[Wanted, ...] = ()
    ordering: str = ORDERING
    cautions: tuple[str, ...] = CAUTIONS


def diagnose(course: Course) -> Diagnosis:
    """Weigh every cause of what a visit found; where nothing is amiss no cause is named."""
    found = (each for each in course.judgement.findings if each.code.startswith(_SYMPTOMS))
    symptoms = tuple(each.words.partition(". ")[0].rstrip(".") for each in found)
    if not symptoms:
        return Diagnosis(course.case.visit.on, ())
    weighed = [Suspect(each, tuple(each.weigh(course))) for each in CAUSES]
    suspects = sorted(
        (each for each in weighed if each.suspected),
        key=lambda each: (-min(1, each.count(Bearing.SEEN)), -each.balance),
    )
    others = tuple(each for each in weighed if not each.suspected)
    return Diagnosis(
        course.case.visit.on, symptoms, tuple(suspects), others, _checks(course, suspects), _wanted(weighed)
    )


def _checks(course: Course, suspects: Sequence[Suspect]) -> tuple[NextCheck, ...]:
    """Reading again and the supplies first, then the three of D08-72 that were not made, then the rest."""
    names = {each.cause.code: each.cause.name for each in suspects}
    own = [
        NextCheck(cause.check, cause.shows, (cause.name,), cause.source)
        for cause in CAUSES
        if cause.code in names
    ]
    outside = sum(cause.code in names for cause in CAUSES[:4])
    before = [
        NextCheck(
            each.words, each.shows, tuple(names[code] for code in each.clears if code in names), each.source
        )
        for each in BEFORE
        if getattr(course.readings, each.field) is None and not _has_none(course, each.field)
    ]
    return _marked([*own[:outside], *before, *own[outside:]], suspects)


def _has_none(course: Course, field: str) -> bool:
    valve = course.valve
    absent = {
        "strainers_cleaned": valve.strainers,
        "check_valves_good": valve.check_valves,
        "isolating_valves_open": valve.isolating_valves,
    }
    return absent[field] is False


def _marked(checks: Sequence[NextCheck], suspects: Sequence[Suspect]) -> tuple[NextCheck, ...]:
    """Mark the first check that points to some, not all, of the first suspects, or to the only one."""
    first = {each.cause.name for each in suspects[:2]}
    found: list[NextCheck] = []
    marked = False
    for each in checks:
        shown = first & set(each.points_to)
        tells = not marked and bool(shown) and (shown != first or len(first) == 1)
        marked = marked or tells
        found.append(NextCheck(each.words, each.shows, each.points_to, each.source, tells))
    return tuple(found)


def _wanted(weighed: Sequence[Suspect]) -> tuple[Wanted, ...]:
    found: dict[str, list[str]] = {}
    for each in weighed:
        for evidence in each.evidence:
            if evidence.bearing is Bearing.MISSING:
                found.setdefault(evidence.words, []).append(each.cause.name)
    return tuple(
        sorted(
            (Wanted(words, tuple(names)) for words, names in found.items()),
            key=lambda each: -len(each.bears_on),
        )
    )
