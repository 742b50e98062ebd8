"""What share of the valves had a satisfactory test in date on past days.

Worked out from the visits that count now, up to each day: with the fits made by then, the rules of the day,
and each outlet that was not retired yet. It is what planning as at that day says today. What was entered
later, corrected or voided since counts as it stands now; what the register itself said on the day is told by
opening it as it was known then.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from estate.domain.findings import Judgement
from estate.domain.learned import GroupParameters
from estate.domain.places import Outlet
from estate.domain.progress import Progress, silent
from estate.domain.rules.values import RuleSet
from estate.domain.today import Share
from estate.domain.valves import Fitting
from estate.operations.holdings import LOOKED_BACK, standing
from estate.operations.learn import Asking, group_of, served_by
from estate.operations.plan_basis import PlanBasis
from estate.scheduler.estimates import Asked, Estimates
from estate.scheduler.lives import Lives
from estate.scheduler.looking_back import last_days, table_until, visits_until
from estate.scheduler.planning import windows_of
from estate.store import fits, judgements
from estate.store.database import Session
from estate.store.said_of_visits import said_of_visits
from estate.store.visit_columns import VisitColumns, counting_columns

_Key = tuple[int, int, int, int, int]
"""A valve as some days knew it: place of its last visit, which fits, rules and fitting, how many outlets."""
_Stands = tuple[bool, Judgement | None]
"""Whether what stands after a visit is satisfactory, and the judgement where it asks for something."""
_Served = tuple[int, Fitting, tuple[Outlet, ...]]
"""Row of a body among those with visits, its fitting, its outlets."""


@dataclass(frozen=True, slots=True)
class _Known:
    """A satisfactory valve as some days knew it."""

    row: int
    visits: int
    fitting: Fitting
    judgement: Judgement | None
    strainers: bool
    rules: RuleSet
    group: GroupParameters | None
    asked: Asked


def past_shares(
    session: Session, basis: PlanBasis, days: Sequence[date], progress: Progress = silent
) -> tuple[Share, ...]:
    """The shares of some days.

    Args:
        session: the reading that the basis comes from.
        basis: the register as at a day not before the last of these; its judgements are not looked at.
        days: which days.
        progress: called before each of them and before their windows are worked out.
    """
    if not days:
        return ()
    # The same visits as the basis has, so that a place in its table is a place in the columns.
    progress(0, len(days), "visits")
    columns = counting_columns(session, basis.on or date.max)
    past = _Past(basis, _Said(session, columns))
    found = []
    for number, day in enumerate(days):
        progress(number, len(days), "months before")
        found.append((day, *past.day(day, fits.fits_as_of(session, day))))
    progress(len(days), len(days), "windows")
    ends = _ends(basis, past.known)
    return tuple(
        Share(day, valves, sum(ends[key] >= day.toordinal() for key in good)) for day, valves, good in found
    )


class _Said:
    """What judging said of the visits that count, as it stands after each."""

    def __init__(self, session: Session, columns: VisitColumns) -> None:
        self._session, self._columns = session, columns
        self._said = said_of_visits(session)
        self._kept: dict[int, Judgement] = {}
        self._needed: dict[int, Sequence[int]] = {}
        self._after: dict[int, _Stands] = {}

    def prepare(self, spans: Iterable[tuple[int, int]]) -> None:
        """Read at once what is needed after the visits (first place of the valve, place) given."""
        wanted = {each for first, place in spans for each in self._judgements(first, place)}
        self._kept |= judgements.judgements(self._session, wanted - self._kept.keys())

    def after(self, first: int, place: int) -> _Stands:
        """What stands after a visit."""
        if place not in self._after:
            self._after[place] = self._stands(first, place)
        return self._after[place]

    def _stands(self, first: int, place: int) -> _Stands:
        ids = self._judgements(first, place)
        if not ids:
            return self._columns.ids[place] in self._said.untested, None
        begins = place + 1 - len(ids)
        seen = [(each, self._columns.day(begins + number)) for number, each in enumerate(ids)]
        found = standing(self._kept, seen)
        return found is not None and found.verdict.satisfactory, found

    def _judgements(self, first: int, place: int) -> Sequence[int]:
        """The visits whose judgements have to be read whole; none where the verdict says it all."""
        if place not in self._needed:
            self._needed[place] = self._look(first, place)
        return self._needed[place]

    def _look(self, first: int, place: int) -> Sequence[int]:
        last = self._columns.ids[place]
        untested = self._said.untested.get(last)
        if untested is None:  # not satisfactory itself: no earlier failure makes it better
            return ()
        recent = self._columns.ids[max(first, place - LOOKED_BACK) : place + 1]
        open_codes = frozenset(untested.split())
        failed = self._said.failed
        if open_codes and any(failed[each] & open_codes for each in recent[:-1] if each in failed):
            return recent
        return (last,) if last in self._said.asking else ()


class _Past:
    """What each of some days knew; a valve that several of them knew alike is worked out once."""

    def __init__(self, basis: PlanBasis, said: _Said) -> None:
        self._basis, self._said = basis, said
        self._first = basis.bodies.table.first.tolist()
        self._fits: list[Mapping[str, GroupParameters]] = []
        self.known: dict[_Key, _Known] = {}

    def day(self, day: date, fitted: Mapping[str, GroupParameters]) -> tuple[int, list[_Key]]:
        """How many valves were in place on a day, and which of them were satisfactory."""
        if fitted not in self._fits:
            self._fits.append(fitted)
        then = _as_at(self._basis, day, fitted)
        in_place = then.in_place(day)
        served = served_by(then, (in_place[each] for each in then.by_position if each in in_place))
        counts = visits_until(self._basis.bodies.table, day.toordinal()).tolist()
        visited = [
            (row, fitting, outlets)
            for fitting, outlets in served
            if (row := self._basis.bodies.row_of.get(fitting.valve_id)) is not None and counts[row]
        ]
        self._said.prepare((self._first[row], self._first[row] + counts[row] - 1) for row, _, _ in visited)
        asking = Asking(then)
        keys = (self._note(then, asking, each, counts[each[0]]) for each in visited)
        return len(served), [key for key in keys if key is not None]

    def _note(self, then: PlanBasis, asking: Asking, served: _Served, visits: int) -> _Key | None:
        """Note a valve if it was satisfactory."""
        row, fitting, outlets = served
        place = self._first[row] + visits - 1
        satisfactory, judgement = self._said.after(self._first[row], place)
        if not satisfactory:
            return None
        rules = then.rules_at(outlets[0])
        key = (place, self._fits.index(then.fits), id(rules), id(fitting), len(outlets))
        if key not in self.known:
            group = group_of(then, fitting, outlets[0]) if then.fits else None
            (asked,) = asking.of([(fitting, outlets)])
            strainers = then.has_strainers(fitting)
            self.known[key] = _Known(row, visits, fitting, judgement, strainers, rules, group, asked)
        return key


def _as_at(basis: PlanBasis, day: date, fitted: Mapping[str, GroupParameters]) -> PlanBasis:
    """The same register with the outlets that were not retired yet, and the fits made by then."""
    outlets = tuple(
        replace(each, retired_on=None) if each.retired_on is not None and day < each.retired_on else each
        for each in basis.outlets
    )
    return replace(basis, outlets=outlets, fits=fitted, on=day)


def _ends(basis: PlanBasis, known: Mapping[_Key, _Known]) -> dict[_Key, float]:
    """The last day of each window, as an ordinal number; all at once, those with fits and those without."""
    ends: dict[_Key, float] = {}
    for fitted in (False, True):
        some = {key: each for key, each in known.items() if (each.group is not None) is fitted}
        if some:
            ends |= zip(some, _last_days(basis, tuple(some.values())), strict=True)
    return ends


def _last_days(basis: PlanBasis, known: Sequence[_Known]) -> list[float]:
    lives = Lives(
        table_until(basis.bodies.table, [each.row for each in known], [each.visits for each in known]),
        [each.fitting.fitted_on for each in known],
        [each.judgement for each in known],
        [each.strainers for each in known],
    )
    groups = [each.group for each in known if each.group is not None]
    estimates = Estimates(lives, groups, [each.asked for each in known]) if groups else None
    windows = windows_of(lives, [each.rules for each in known], date.max, estimates)
    return [float(each) for each in last_days(windows)]
