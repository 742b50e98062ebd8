"""Changes by hand over the real operations."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import Rows, Seen
from estate.domain.editing import (
    Edited,
    OutletChange,
    OutletDraft,
    Place,
    PlaceNames,
    ValveChange,
    Written,
)
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.domain.valves import Valve
from estate.operations import (
    add_outlet,
    add_place,
    amend_outlets,
    amend_valve,
    fit_valve,
    move_places,
    remove_empty,
    rename_place,
    take_back_edit,
    use_outlets,
)
from estate.operations.register import Register


class RegisterEditing:
    """Runs the operations that change places, outlets and valves by hand, on one open register.

    Args:
        register: the open register.
        now: tells the moment, UTC.
    """

    def __init__(self, register: Register, now: Callable[[], datetime]) -> None:
        self._register, self._now = register, now

    def names(self, place: Place) -> PlaceNames:
        """What a site, building, level or room is called."""
        return rename_place.names_of(self._register, place)

    def seen(self, noun: str, row_id: int) -> Seen:
        """A row as it is now."""
        return rename_place.seen_of(self._register, noun, row_id)

    def outlets_seen(self, outlet_ids: Sequence[int]) -> Rows:
        """Outlets as they are now."""
        return amend_outlets.outlets_seen(self._register, outlet_ids)

    def outlets(self, outlet_ids: Sequence[int]) -> tuple[Outlet, ...]:
        """Outlets as recorded."""
        return amend_outlets.outlets_of(self._register, outlet_ids)

    def add_place(self, above: Place | None, names: PlaceNames, who: str) -> Edited:
        """Add a place one storey below another."""
        return add_place.add_place(self._register, above, names, who=who, at=self._now())

    def add_outlet(self, room_id: int, draft: OutletDraft, who: str) -> Edited:
        """Add an outlet to a room."""
        return add_outlet.add_outlet(self._register, room_id, draft, who=who, at=self._now())

    def fit_valve(self, outlet_id: int, body: Valve, on: date | None, who: str) -> Edited:
        """Fit the first valve of an outlet."""
        return fit_valve.fit_valve(self._register, outlet_id, body, on=on, who=who, at=self._now())

    def rename(self, place: Place, names: PlaceNames, who: str, seen: Seen | None = None) -> Edited:
        """Call a place otherwise."""
        return rename_place.rename_place(self._register, place, names, who=who, at=self._now(), seen=seen)

    def move(self, places: Sequence[Place], to: Place, who: str) -> Edited:
        """Move places of one storey."""
        return move_places.move_places(self._register, places, to, who=who, at=self._now())

    def remove_empty(self, place: Place, who: str) -> Edited:
        """Take a place away that never held anything."""
        return remove_empty.remove_empty(self._register, place, who=who, at=self._now())

    def amend_outlets(
        self,
        outlet_ids: Sequence[int],
        change: OutletChange,
        who: str,
        why: str = "",
        seen: Seen | Rows | None = None,
    ) -> Edited:
        """Change fields of outlets."""
        return amend_outlets.amend_outlets(
            self._register, outlet_ids, change, who=who, at=self._now(), why=why, seen=seen
        )

    def amend_valve(
        self, valve_id: int, change: ValveChange, who: str, why: str = "", seen: Seen | None = None
    ) -> Edited:
        """Change what is recorded of a valve body."""
        return amend_valve.amend_valve(
            self._register, valve_id, change, who=who, at=self._now(), why=why, seen=seen
        )

    def retire(self, outlet_ids: Sequence[int], on: date, why: str, who: str) -> Edited:
        """Retire outlets."""
        return use_outlets.use_outlets(
            self._register, outlet_ids, UseStep.RETIRE, on=on, why=why, who=who, at=self._now()
        )

    def take_out(
        self, outlet_ids: Sequence[int], on: date, why: str, who_told: str, sign_placed: bool | None, who: str
    ) -> Edited:
        """Take outlets out of use."""
        return use_outlets.use_outlets(
            self._register,
            outlet_ids,
            UseStep.TAKE_OUT,
            on=on,
            why=why,
            who_told=who_told,
            sign_placed=sign_placed,
            who=who,
            at=self._now(),
        )

    def take_back(self, written: Written, who: str, why: str) -> ChangeSet:
        """Undo a change by hand."""
        return take_back_edit.take_back_edit(self._register, written, who=who, at=self._now(), why=why)
