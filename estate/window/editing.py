"""What the window asks of the register to change places, outlets and valves by hand: a port, as `desk` is.

Each call is one operation and one step that can be undone; it returns what `take_back` needs.
"""

from collections.abc import Sequence
from datetime import date
from typing import Protocol

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
from estate.domain.places import Outlet
from estate.domain.valves import Valve


class Editing(Protocol):
    """Changes by hand."""

    def names(self, place: Place) -> PlaceNames:
        """What a site, building, level or room is called, in its parts."""

    def seen(self, noun: str, row_id: int) -> Seen:
        """A row as it is now, asked before the values that a form shows are read.

        Args:
            noun: ``site``, ``building``, ``level``, ``room``, ``outlet`` or ``valve``.
            row_id: the row.
        """

    def outlets_seen(self, outlet_ids: Sequence[int]) -> Rows:
        """Outlets as they are now, each for a form that is filled from all of them."""

    def outlets(self, outlet_ids: Sequence[int]) -> tuple[Outlet, ...]:
        """Outlets as recorded, in the order asked."""

    def add_place(self, above: Place | None, names: PlaceNames, who: str) -> Edited:
        """Add a place one storey below another; a site below none."""

    def add_outlet(self, room_id: int, draft: OutletDraft, who: str) -> Edited:
        """Add an outlet to a room, with no valve yet."""

    def fit_valve(self, outlet_id: int, body: Valve, on: date | None, who: str) -> Edited:
        """Fit the first valve of an outlet that has none; its id is ignored."""

    def rename(self, place: Place, names: PlaceNames, who: str, seen: Seen | None = None) -> Edited:
        """Call a site, building, level or room otherwise."""

    def move(self, places: Sequence[Place], to: Place, who: str) -> Edited:
        """Move places of one storey to another place one storey above them."""

    def remove_empty(self, place: Place, who: str) -> Edited:
        """Take a place away that holds nothing and never held anything; anything else is retired."""

    def amend_outlets(
        self,
        outlet_ids: Sequence[int],
        change: OutletChange,
        who: str,
        why: str = "",
        seen: Seen | Rows | None = None,
    ) -> Edited:
        """Change fields of one or many outlets; what was judged by them is judged again."""

    def amend_valve(
        self, valve_id: int, change: ValveChange, who: str, why: str = "", seen: Seen | None = None
    ) -> Edited:
        """Change what is recorded of a valve body; what was judged by it is judged again."""

    def retire(self, outlet_ids: Sequence[int], on: date, why: str, who: str) -> Edited:
        """Retire outlets; they keep their history."""

    def take_out(
        self, outlet_ids: Sequence[int], on: date, why: str, who_told: str, sign_placed: bool | None, who: str
    ) -> Edited:
        """Take outlets out of use, all or none."""

    def take_back(self, written: Written, who: str, why: str) -> ChangeSet:
        """Undo a change by hand exactly, unless later work rests on it: then a fault says what.

        Evidence is not taken back: retired outlets are taken up again, those out of use put back where the
        rules let them; a fitted body stays on record without a place. To do again what was taken back, the
        call is made again. A recorded visit is undone by making it void with a reason (`Desk.void`).
        """
