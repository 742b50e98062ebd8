"""Ask about an as-found reading that is unlikely for its valve, before it is kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.learned import GroupParameters
from estate.domain.visits import VisitDraft
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.learn import group_of
from estate.operations.register import Register
from estate.scheduler.expecting import expected_readings
from estate.scheduler.learning import expected_reading

UNLIKELY = "reading-unlikely"
NEAR_SET_K = 4.0
"""A reading of a sheet this near to where its valve is meant to be, or was left, is not asked about.

A slipped or swapped digit moves a mixed temperature further. Valves are set anew between visits without a
record of it: on the kept history and rounds (tests/data/sheets), brought in one after the other, readings
outside the interval lie within 2.3 K for that reason. The judgement tells of such a change all the same.
"""


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


def unlikely_among(
    holdings: Holdings, asked: Sequence[tuple[VisitDraft, Sequence[VisitDraft]]]
) -> list[UnlikelyReading | None]:
    """The same for the many drafts of a sheet at once, but for readings near where the valve was set.

    Args:
        holdings: the register, with the fits to go by; empty ones query nothing.
        asked: each draft with the visits of its valve that count and come before it, in order.

    Returns:
        One for each draft, in order; None as for `unlikely_reading`.
    """
    found: list[UnlikelyReading | None] = [None] * len(asked)
    if not holdings.fits:
        return found
    readable = [number for number, (draft, earlier) in enumerate(asked) if _can_expect(draft, earlier)]
    groups = [_group(holdings, asked[number][0]) for number in readable]
    weeks = [(asked[number][0].on - asked[number][1][-1].on).days / 7 for number in readable]
    expected = expected_readings([asked[number][1] for number in readable], groups, weeks)
    for number, (low, high) in zip(readable, expected, strict=True):
        read = asked[number][0].readings.found_c or 0.0
        if low <= read <= high:
            continue
        if not any(abs(read - each) <= NEAR_SET_K for each in _set_at(holdings, *asked[number])):
            found[number] = UnlikelyReading(read, low, high)
    return found


def _set_at(holdings: Holdings, draft: VisitDraft, earlier: Sequence[VisitDraft]) -> Iterator[float]:
    """Where a valve is meant to be and where it was left last, °C."""
    left = (each.readings.as_left_c for each in reversed(earlier))
    last = next((each for each in left if each is not None), None)
    yield from (each for each in (holdings.valves[draft.valve_id].set_c, last) if each is not None)


def _can_expect(draft: VisitDraft, earlier: Sequence[VisitDraft]) -> bool:
    was_read = any(each.readings.found_c is not None or each.readings.left_c is not None for each in earlier)
    return draft.readings.found_c is not None and was_read


def _group(holdings: Holdings, draft: VisitDraft) -> GroupParameters:
    fittings = holdings.fittings_of[draft.valve_id]
    fitting = next((each for each in fittings if each.in_place(draft.on)), fittings[0])
    return group_of(holdings, fitting, holdings.outlet_by_id[draft.outlet_id])
