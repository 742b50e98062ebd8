"""Write a blank round sheet: the outlets to visit, what to enter, the limits beside each field."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from estate.domain.dates import day_words, moment_words
from estate.domain.due import DueLine
from estate.domain.field_limits import field_limits
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.progress import Progress, silent
from estate.domain.register import AsAt
from estate.domain.round_key import RoundKey, key_text
from estate.domain.valves import Fitting
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations.browse import identity
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.reports.round_sheet import RoundLine, round_sheet
from estate.reports.xlsx.rounds import write_round
from estate.store import places, visits


@dataclass(frozen=True, slots=True)
class Round:
    """Which valves to visit; each part narrows the choice, and without any it is every valve in place.

    Attributes:
        building_id: those of one building.
        due_within_weeks: those whose test is due by so many weeks from today, overdue ones too.
    """

    building_id: int | None = None
    due_within_weeks: int | None = None


@dataclass(frozen=True, slots=True)
class _Choice:
    outlets: tuple[Outlet, ...]
    words: str


def write_round_sheet(
    register: Register, which: Collection[int] | Round, to: Path, today: date, progress: Progress = silent
) -> Path:
    """Write a blank round sheet in walking order; filled in, it is brought in like any other sheet.

    Args:
        register: the open register.
        which: ids of outlets; or a round, which has one outlet of each valve.
        to: a file that ends in ``.xlsx``.
        today: the day it is made.
        progress: told how far the work is; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        NotFoundFault: there is no such outlet or building.
        EntryFault: an outlet has no valve in place, or nothing is chosen.
        ReportFault: another ending, the register is one of the past, or the file can't be written.
    """
    if to.suffix.lower() != ".xlsx":
        raise ReportFault("Unknown kind of file", f"{to.name}.", "Give a name that ends in .xlsx.")
    if register.known_at is not None:
        detail = phrase("This is the register as known at {moment}.", moment=moment_words(register.known_at))
        remedy = phrase("Make it from the register as it is now: it is for tests that are to come.")
        raise ReportFault("A round sheet is not made of the past", detail, remedy)
    as_at = AsAt(today, identity(register))
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, on=today)
        buildings = {each.building_id: each.building for each in places.rooms(session)}
        building_of = places.building_of_outlet(session)
        people = visits.people(session)
    if isinstance(which, Round):
        choice = _round(which, holdings, today, buildings, building_of)
    else:
        choice = _named(which, holdings)
    lines = tuple(_lines(choice.outlets, holdings, as_at))
    references = sorted(each.reference for each in holdings.instruments.values())
    return write_round(round_sheet(lines, as_at, choice.words, references, people), to, progress)


def _named(ids: Collection[int], holdings: Holdings) -> _Choice:
    if unknown := sorted(set(ids) - holdings.outlet_by_id.keys()):
        raise NotFoundFault(
            "No such outlet", phrase("outlet {unknown}.", unknown=unknown[0]), "Read the register afresh."
        )
    wanted = set(ids)
    return _some(tuple(each for each in holdings.outlets if each.id in wanted), "chosen one by one")


def _round(
    which: Round,
    holdings: Holdings,
    today: date,
    buildings: Mapping[int, str],
    building_of: Mapping[int, int],
) -> _Choice:
    words = []
    lines: list[DueLine] = list(lines_of(holdings, today))
    if which.building_id is not None:
        if which.building_id not in buildings:
            raise NotFoundFault(
                "No such building",
                phrase("building {building_id}.", building_id=which.building_id),
                "Read the register afresh.",
            )
        lines = [each for each in lines if building_of[each.outlet_id] == which.building_id]
        words.append(buildings[which.building_id])
    if which.due_within_weeks is not None:
        by = today + timedelta(weeks=which.due_within_weeks)
        lines = [each for each in lines if each.window.not_after <= by]
        words.append(f"due by {day_words(by)}")
    wanted = {each.outlet_id for each in lines}
    chosen = tuple(each for each in holdings.outlets if each.id in wanted)
    return _some(chosen, ", ".join(words) or "every valve in place")


def _some(outlets: tuple[Outlet, ...], words: str) -> _Choice:
    if not outlets:
        remedy = phrase("Choose other outlets, another building or more weeks.")
        raise EntryFault(
            "There is nothing to visit", phrase("No outlet is in the choice ({words}).", words=words), remedy
        )
    return _Choice(outlets, words)


def _lines(outlets: tuple[Outlet, ...], holdings: Holdings, as_at: AsAt) -> Iterator[RoundLine]:
    in_place = holdings.in_place(as_at.today)
    for outlet in outlets:
        fitting = in_place.get(outlet.position_id)
        if fitting is None or outlet.retired_on is not None:
            raise EntryFault(
                "There is no valve to test",
                phrase(
                    "{reference} has no valve in place on {day} or is retired.",
                    reference=outlet.reference,
                    day=day_words(as_at.today),
                ),
                "Leave the outlet out, or enter its valve first.",
            )
        yield _line(outlet, fitting, holdings, as_at)


def _line(outlet: Outlet, fitting: Fitting, holdings: Holdings, as_at: AsAt) -> RoundLine:
    valve = holdings.valves[fitting.valve_id]
    served = holdings.by_position[outlet.position_id]
    return RoundLine(
        reference=outlet.reference,
        path=outlet.path,
        use=outlet.use.value,
        users=outlet.user_group.value,
        valve=valve.words,
        key=key_text(RoundKey(as_at.register.identifier, outlet.id)),
        set_c=valve.set_c,
        last=_last(holdings, fitting, as_at.today),
        also_serves=tuple(each.reference for each in served if each.id != outlet.id),
        limits=field_limits(served, valve, holdings.rules_at(outlet)),
    )


def _last(holdings: Holdings, fitting: Fitting, today: date) -> str:
    """What the valve was left at when it was last visited, and by which instrument (D08-71)."""
    earlier = [each for each in holdings.counting(fitting.valve_id) if each.on <= today]
    if not earlier:
        return "never visited"
    last = earlier[-1]
    left = last.readings.as_left_c
    words = "not measured" if left is None else f"left at {left:g} °C"
    instrument = holdings.instruments.get(last.draft.instrument_id or 0)
    by = instrument.reference if instrument else last.draft.instrument_words
    return ", ".join(part for part in (words, day_words(last.on), by) if part)
