"""The figures of instruments, people and upkeep on the first page."""

from collections.abc import Iterable
from datetime import date
from typing import Final

from estate.domain.counted import noun, verb
from estate.domain.instruments import Instrument
from estate.domain.known_today import Known
from estate.domain.life.care import CareAsked
from estate.domain.life.people import Person
from estate.domain.today import Behind, Figure, ListAsked, Part, Weight

SOON_DAYS: Final = 60
"""Calibrations and competences that end within so many days are told."""


def of_instruments(known: Known) -> tuple[Figure, ...]:
    """Instruments without a calibration that holds, and those whose calibration ends soon."""
    out = [each for each in known.instruments if each.calibration_on(known.today) is None]
    ending = [each for each in known.instruments if _calibration_ends(each, known.today)]
    none = (
        "" if known.instruments else "no instrument is in the register: what tests are read with is unknown"
    )
    return (
        Figure(
            Part.MEANS,
            Weight.LATE,
            len(out),
            noun(out, "instrument"),
            f"{verb(out, 'has', 'have')} no calibration that holds.",
            none or "every instrument is in calibration",
            ListAsked(Behind.OUT_OF_CALIBRATION, "Without a calibration that holds"),
            "What is read with it does not count as a test until somebody responsible says why it does.",
            unknown=bool(none),
        ),
        Figure(
            Part.MEANS,
            Weight.COMING,
            len(ending),
            noun(ending, "instrument"),
            f"{verb(ending, 'goes', 'go')} out of calibration within {SOON_DAYS} days.",
            "" if none else f"no calibration ends within {SOON_DAYS} days",
            ListAsked(Behind.CALIBRATION_ENDS, "Ending soon"),
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
    none = "" if here else "nobody is in the register of people: of those who test nothing is judged"
    return (
        Figure(
            Part.MEANS,
            Weight.LATE,
            len(without),
            noun(without, "person", "people"),
            f"{verb(without, 'has', 'have')} no competence on record that holds.",
            none or "everybody has a competence that holds",
            ListAsked(Behind.NOT_COMPETENT, "Without a competence that holds"),
            unknown=bool(none),
        ),
        Figure(
            Part.MEANS,
            Weight.COMING,
            len(ending),
            noun(ending, "person", "people"),
            f"{verb(ending, 'has', 'have')} a competence that ends within {SOON_DAYS} days.",
            "" if none else f"no competence ends within {SOON_DAYS} days",
            ListAsked(Behind.COMPETENCE_ENDS, "Ending soon"),
        ),
    )


def _competence_ends(person: Person, today: date) -> bool:
    holding = person.competence_on(today)
    until = None if holding is None else holding.until_on
    return until is not None and (until - today).days <= SOON_DAYS


_CARE: Final = (
    (CareAsked.FLUSHING, Behind.FLUSHING, "outlet", "to be flushed", "no outlet is to be flushed"),
    (
        CareAsked.SHOWER_HEAD,
        Behind.SHOWER_HEADS,
        "shower head",
        "to be cleaned and descaled",
        "no shower head is to be cleaned",
    ),
    (
        CareAsked.REVIEW,
        Behind.REVIEWS,
        "outlet",
        "to be asked about: is the valve still needed?",
        "of no outlet it is to be asked whether its valve is needed",
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
            noun(due, cared_for),
            f"{verb(due, 'is', 'are')} {words}{'' if words.endswith('?') else '.'}",
            nothing,
            ListAsked(behind, asked.value, frozenset(each.outlet.id for each in due)),
            _care_more(never, late),
        )


def _care_weight(asked: CareAsked, late: int) -> Weight:
    if asked is CareAsked.REVIEW:
        return Weight.COMING
    return Weight.LATE if late else Weight.COMING


def _care_more(never: int, late: int) -> str:
    parts = [f"{late:,} late" if late else "", f"{never:,} without any on record" if never else ""]
    said = ", ".join(each for each in parts if each)
    return f"{said}." if said else ""
