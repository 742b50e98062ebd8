"""Ask about an as-found reading that is unlikely for its valve, before it is kept."""

from dataclasses import dataclass, replace

from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.visits import VisitDraft
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.learn import group_of
from estate.operations.register import Register
from estate.scheduler.learning import expected_reading

UNLIKELY = "reading-unlikely"


@dataclass(frozen=True, slots=True)
class UnlikelyReading:
    """An as-found reading outside the interval in which 99.9 % were expected, °C."""

    found_c: float
    low_c: float
    high_c: float

    @property
    def words(self) -> str:
        """The question as it is put to a person."""
        return (
            f"Found {self.found_c:.1f} °C, where {self.low_c:.1f} to {self.high_c:.1f} °C was expected "
            "of this valve: was a digit swapped, or another outlet tested? What is confirmed is kept."
        )


def unlikely_reading(
    register: Register, draft: VisitDraft, without: int | None = None
) -> UnlikelyReading | None:
    """Look whether a draft's as-found reading is unlikely for its valve.

    Args:
        register: the open register.
        draft: the visit as typed.
        without: id of the entry that the draft is to correct.

    Returns:
        None where it is likely, missing, or nothing has been learned yet.
    """
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, {draft.valve_id}, on=draft.on)
    return unlikely_in(holdings, draft, without)


def unlikely_in(holdings: Holdings, draft: VisitDraft, without: int | None = None) -> UnlikelyReading | None:
    """The same in a reading of the register, with fits as of the draft's day."""
    found = draft.readings.found_c
    if found is None or not holdings.fits:
        return None
    fitting = next(
        (each for each in holdings.fittings_of.get(draft.valve_id, ()) if each.in_place(draft.on)), None
    )
    outlets = holdings.by_position.get(fitting.position_id, ()) if fitting else ()
    if fitting is None or not outlets:
        return None
    counting = [
        each for each in holdings.counting(draft.valve_id) if each.id != without and each.on <= draft.on
    ]
    life = replace(holdings.life(fitting), visits=tuple(each.draft for each in counting))
    expected = expected_reading(life, group_of(holdings, fitting, outlets[0]), draft.on)
    if expected is None or expected[0] <= found <= expected[1]:
        return None
    return UnlikelyReading(found, *expected)


def with_query(judgement: Judgement, unlikely: UnlikelyReading | None) -> Judgement:
    """A judgement with the question beside it as a note; it is kept with what the person confirms."""
    if unlikely is None:
        return judgement
    note = Finding(
        UNLIKELY,
        Outcome.NOT_MET,
        unlikely.words,
        Severity.NOTE,
        measured=unlikely.found_c,
        unit="°C",
        source="this register's own estimate from its readings (docs/how-dates-are-found.md)",
        action="Read again before going on.",
    )
    return replace(judgement, checks=(*judgement.checks, note))
