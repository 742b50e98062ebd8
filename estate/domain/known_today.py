"""What the figures of the first page are worked out from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from estate.domain.due import DueLine
from estate.domain.instruments import Instrument
from estate.domain.life.actions import Action
from estate.domain.life.care import CareLine
from estate.domain.life.outlet_use import OutletUse, UseOfOutlet
from estate.domain.life.people import Person
from estate.domain.places import Outlet
from estate.domain.today import OutOfUse


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of an estate on a day.

    Attributes:
        lines: every valve in place that serves an outlet in use.
        served: ids of all outlets of a valve, by the id of the line's outlet.
        uses: how outlets stand of which something is on record, by id.
        actions: live ones and done ones.
        people: those who left too.
    """

    today: date
    lines: Sequence[DueLine]
    outlets: Sequence[Outlet]
    served: Mapping[int, Sequence[int]]
    uses: Mapping[int, UseOfOutlet]
    actions: Sequence[Action]
    instruments: Sequence[Instrument]
    people: Sequence[Person]
    care: Sequence[CareLine]

    def out_of_use(self) -> tuple[OutOfUse, ...]:
        """Outlets out of use, the longest first."""
        there = (OutOfUse(each, self.uses[each.id]) for each in self.outlets if each.id in self.uses)
        out = [each for each in there if each.use.use is OutletUse.OUT_OF_USE]
        return tuple(sorted(out, key=lambda each: each.use.since or date.min))
