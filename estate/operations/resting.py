"""What rests on a batch, in words: work done since that undoing it would pull the ground from under."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from datetime import date

from estate.domain.browsing import PlaceKind
from estate.domain.dates import day_words
from estate.domain.places import Outlet
from estate.domain.register import WrittenEntry
from estate.domain.rules.values import Override
from estate.domain.visits import Visit
from estate.operations.column_words import column_words
from estate.store import batches, places, rules, storeys, taking_back, valves, visits
from estate.store.database import Session
from estate.store.taking_back import LaterChange, Tie

_PLACES = frozenset(each.value for each in PlaceKind)
_COUNTED = {
    "visit": ("visit", "visits"),
    "attempt": ("attempted visit", "attempted visits"),
    "alias": ("confirmed alias", "confirmed aliases"),
    "document": ("document", "documents"),
    "action": ("action", "actions"),
    "outlet_event": ("change of its use", "changes of its use"),
    "care": ("entry of upkeep", "entries of upkeep"),
    "outlet_review": ("review", "reviews"),
    "survey": ("survey", "surveys"),
}


def resting(session: Session, batch_id: int) -> tuple[str, ...]:
    """Later work that rests on a batch; nothing where it can be undone.

    Raises:
        NotFoundFault: there is no such batch.
    """
    if batches.batch(session, batch_id).undone is not None:
        return ()
    found = [*_follow_ups(session, batch_id), *_corrections(session, batch_id)]
    written = batches.rows_of(session, batch_id)
    if written:
        found += _Ground(session, written).words()
    return tuple(found)


def resting_on(
    session: Session, written: Sequence[WrittenEntry], own: Collection[tuple[str, int]]
) -> tuple[str, ...]:
    """Later work that rests on a change by hand, in words; nothing where it can be taken back.

    Args:
        session: reads.
        written: what it wrote to places and valves.
        own: what it wrote beside them, by table and row.
    """
    return tuple(_Ground(session, written, own, shared=True).words())


def _follow_ups(session: Session, batch_id: int) -> list[str]:
    return [
        f"follow-up batch {each.id} of {day_words(each.at.date())} took further rows of the file"
        for each in batches.batches(session)
        if each.follows == batch_id and each.undone is None
    ]


def _corrections(session: Session, batch_id: int) -> list[str]:
    later = visits.correcting(session, batch_id)
    refs = {each.id: each.reference for each in places.outlets(session)} if later else {}
    return [
        f"the visit of {day_words(each.on)} at {refs[each.draft.outlet_id]}, recorded later "
        f"{_by_what(each)}, corrects one of this batch"
        for each in later
    ]


def _by_what(visit: Visit) -> str:
    return "by hand" if visit.batch_id is None else f"with batch {visit.batch_id}"


class _Ground:
    """What a batch or a change by hand wrote to places and valves, and what stands on it now.

    Args:
        session: reads.
        written: what it wrote.
        own: rows that it wrote itself beside places and valves.
        shared: whether sites, buildings, levels and rooms that it added are asked about as well.
    """

    def __init__(
        self,
        session: Session,
        written: Sequence[WrittenEntry],
        own: Collection[tuple[str, int]] = (),
        shared: bool = False,
    ) -> None:
        self._session = session
        self._written, self._own, self._shared = written, own, shared
        self._outlets = {each.id: each for each in places.outlets(session)}
        self._fittings = valves.fittings_by_id(session)
        # A body goes by the outlet that the batch put it at, wherever it was fitted later.
        self._fitted = {each.valve_id: each.position_id for each in reversed(self._fittings.values())}
        self._served: dict[int, Outlet] = {}
        for outlet in self._outlets.values():
            self._served.setdefault(outlet.position_id, outlet)
        self._replaced: set[int] = set()

    def words(self) -> list[str]:
        """Everything that rests on it, each told once."""
        later = taking_back.changed_since(self._session, self._written)
        moved = {self._outlets[each.row_id].position_id for each in later if each.noun == "outlet"}
        # A position that moved along with its outlet is told with it.
        along = {("position", position_id) for position_id in moved}
        changed = [self._change(each) for each in later if (each.noun, each.row_id) not in along]
        return [*changed, *self._tied(), *self._overridden()]

    def _change(self, change: LaterChange) -> str:
        columns = dict(change.columns)
        if change.noun == "fitting" and isinstance(removed_on := columns.get("removed_on"), str):
            fitting = self._fittings[change.row_id]
            self._replaced.add(fitting.position_id)
            on = day_words(date.fromisoformat(removed_on))
            return f"the valve of {self._at(fitting.position_id)} was taken out on {on}"
        what = ", ".join(column_words(each) for each in columns if not each.endswith("_key"))
        by = f" by {change.who}" if change.who else ""
        when = f"{day_words(change.at.date())}{by} ({change.what})"
        return f"{self._name(change.noun, change.row_id)}: {what} changed on {when}"

    def _tied(self) -> Iterator[str]:
        counted: dict[tuple[str, str], int] = defaultdict(int)
        met: set[tuple[str, int]] = set(self._own)
        for tie in taking_back.ties(self._session, self._written, self._shared):
            if tie.by not in _COUNTED:
                if (words := self._tie(tie)) is not None:
                    yield words
            elif (tie.by, tie.by_id) not in met:
                # A visit refers to its outlet and to its valve: it is counted once, at the outlet.
                met.add((tie.by, tie.by_id))
                counted[self._name(tie.noun, tie.row_id), tie.by] += 1
        for (name, by), count in counted.items():
            one, many = _COUNTED[by]
            yield f"{name} has {count} {one if count == 1 else many} on record"

    def _tie(self, tie: Tie) -> str | None:
        if tie.noun in _PLACES:
            at = self._name(tie.noun, tie.row_id)
            return None if tie.by == "position" else f"{self._name(tie.by, tie.by_id)} lies in {at} now"
        if tie.by == "outlet":
            return (
                f"{self._outlets[tie.by_id].reference} was put on the valve of {self._at(tie.row_id)} later"
            )
        fitting = self._fittings[tie.by_id]
        if fitting.position_id in self._replaced:
            return None
        on = f" on {day_words(fitting.fitted_on)}" if fitting.fitted_on else ""
        if tie.noun == "position":
            return f"a valve was fitted at {self._at(fitting.position_id)}{on}"
        return f"{self._name('valve', tie.row_id)} was fitted at {self._at(fitting.position_id)}{on}"

    def _overridden(self) -> list[str]:
        added = {f"{each.noun}:{each.row_id}" for each in self._written if each.action == "added"}
        latest: dict[tuple[str, str, str], Override] = {
            (each.rule_set, each.key, each.place): each
            for each in rules.overrides(self._session)
            if each.place in added
        }
        return [
            f"{self._name(noun, int(number))}: {each.key} was set on {day_words(each.at.date())}"
            for each in latest.values()
            if each.value is not None
            for noun, _, number in [each.place.partition(":")]
        ]

    def _name(self, noun: str, row_id: int) -> str:
        if noun == "outlet":
            return self._outlets[row_id].reference
        if noun in _PLACES:
            return storeys.words(self._session, (PlaceKind(noun), row_id))
        if noun == "position":
            return f"the valve position of {self._at(row_id)}"
        at = self._fittings[row_id].position_id if noun == "fitting" else self._fitted.get(row_id)
        return f"valve {row_id}" if at is None else f"the valve of {self._at(at)}"

    def _at(self, position_id: int) -> str:
        outlet = self._served.get(position_id)
        return f"position {position_id}" if outlet is None else outlet.reference
