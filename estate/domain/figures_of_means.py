"""The figures of instruments, people and upkeep on the first page."""

from collections.abc import Callable, Iterable
from datetime import date
from typing import Final

from estate.domain.instruments import Instrument
from estate.domain.known_today import Known
from estate.domain.life.care import CareAsked
from estate.domain.life.people import Person
from estate.domain.phrases import phrase, phrase_count
from estate.domain.today import Behind, Figure, ListAsked, Part, Weight

SOON_DAYS: Final = 60
"""Calibrations and competences that end within so many days are told."""


def of_instruments(known: Known) -> tuple[Figure, ...]:
    """Instruments without a calibration that holds, and those whose calibration ends soon."""
    out = [each for each in known.instruments if each.calibration_on(known.today) is None]
    ending = [each for each in known.instruments if _calibration_ends(each, known.today)]
    none = (
        ""
        if known.instruments
        else phrase("no instrument is in the register: what tests are read with is unknown")
    )
    return (
        Figure(
            Part.MEANS,
            Weight.LATE,
            len(out),
            phrase_count(len(out), "{n:,} instrument", "{n:,} instruments"),
            phrase_count(len(out), "has no calibration that holds.", "have no calibration that holds."),
            none or phrase("every instrument is in calibration"),
            ListAsked(Behind.OUT_OF_CALIBRATION, phrase("Without a calibration that holds")),
            phrase(
                "What is read with it does not count as a test until somebody responsible says why it does."
            ),
            unknown=bool(none),
        ),
        Figure(
            Part.MEANS,
            Weight.COMING,
            len(ending),
            phrase_count(len(ending), "{n:,} instrument", "{n:,} instruments"),
            phrase_count(
                len(ending),
                "goes out of calibration within {days} days.",
                "go out of calibration within {days} days.",
                days=SOON_DAYS,
            ),
            "" if none else phrase("no calibration ends within {days} days", days=SOON_DAYS),
            ListAsked(Behind.CALIBRATION_ENDS, phrase("Ending soon")),
        ),
    )


def _calibration_ends(instrument: Instrument, today: date) -> bool:
    if instrument.calibration_on(today) is None:
        return False
    return (max(each.due_on for each in instrument.calibrations) - today).days <= SOON_DAYS


def of_people(known: Known) -> tuple[Figure, ...]:
    """People here without a competence that holds, and those whose competence ends soon."""
    here = [each for each in known.people if each.left_on is None]
    without = [each for each in here if each.competence_on(known.today) is None]
    ending = [each for each in here if _competence_ends(each, known.today)]
    nobody = phrase("nobody is in the register of people: of those who test nothing is judged")
    none = "" if here else nobody
    return (
        Figure(
            Part.MEANS,
            Weight.LATE,
            len(without),
            phrase_count(len(without), "{n:,} person", "{n:,} people"),
            phrase_count(
                len(without),
                "has no competence on record that holds.",
                "have no competence on record that holds.",
            ),
            none or phrase("everybody has a competence that holds"),
            ListAsked(Behind.NOT_COMPETENT, phrase("Without a competence that holds")),
            unknown=bool(none),
        ),
        Figure(
            Part.MEANS,
            Weight.COMING,
            len(ending),
            phrase_count(len(ending), "{n:,} person", "{n:,} people"),
            phrase_count(
                len(ending),
                "has a competence that ends within {days} days.",
                "have a competence that ends within {days} days.",
                days=SOON_DAYS,
            ),
            "" if none else phrase("no competence ends within {days} days", days=SOON_DAYS),
            ListAsked(Behind.COMPETENCE_ENDS, phrase("Ending soon")),
        ),
    )


def _competence_ends(person: Person, today: date) -> bool:
    holding = person.competence_on(today)
    until = None if holding is None else holding.until_on
    return until is not None and (until - today).days <= SOON_DAYS


def _outlets(n: int) -> str:
    return phrase_count(n, "{n:,} outlet", "{n:,} outlets")


_CARE: Final[tuple[tuple[CareAsked, Behind, Callable[[int], str], Callable[[int], str], str], ...]] = (
    (
        CareAsked.FLUSHING,
        Behind.FLUSHING,
        _outlets,
        lambda n: phrase_count(n, "is to be flushed.", "are to be flushed."),
        phrase("no outlet is to be flushed"),
    ),
    (
        CareAsked.SHOWER_HEAD,
        Behind.SHOWER_HEADS,
        lambda n: phrase_count(n, "{n:,} shower head", "{n:,} shower heads"),
        lambda n: phrase_count(n, "is to be cleaned and descaled.", "are to be cleaned and descaled."),
        phrase("no shower head is to be cleaned"),
    ),
    (
        CareAsked.REVIEW,
        Behind.REVIEWS,
        _outlets,
        lambda n: phrase_count(
            n,
            "is to be asked about: is the valve still needed?",
            "are to be asked about: is the valve still needed?",
        ),
        phrase("of no outlet it is to be asked whether its valve is needed"),
    ),
)


def of_care(known: Known) -> Iterable[Figure]:
    """Upkeep that is due, of each kind."""
    for asked, behind, cared_for, words, nothing in _CARE:
        due = [each for each in known.care if each.asked is asked and each.due(known.today)]
        never = sum(each.last is None for each in due)
        late = sum(each.days_late(known.today) > 0 for each in due)
        yield Figure(
            Part.UPKEEP,
            _care_weight(asked, never + late),
            len(due),
            cared_for(len(due)),
            words(len(due)),
            nothing,
            ListAsked(behind, asked.value, frozenset(each.outlet.id for each in due)),
            _care_more(never, late),
        )


def _care_weight(asked: CareAsked, late: int) -> Weight:
    if asked is CareAsked.REVIEW:
        return Weight.COMING
    return Weight.LATE if late else Weight.COMING


def _care_more(never: int, late: int) -> str:
    if never and late:
        return phrase("{late:,} late, {never:,} without any on record.", late=late, never=never)
    if late:
        return phrase_count(late, "{n:,} late.", "{n:,} late.")
    if never:
        return phrase_count(never, "{n:,} without any on record.", "{n:,} without any on record.")
    return ""
