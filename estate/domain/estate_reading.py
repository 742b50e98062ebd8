"""What a window reads of a register at one time: everything that its tree, lists and first page show."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from estate.domain.browsing import PlaceNode
from estate.domain.due import DueLine
from estate.domain.instruments import Instrument
from estate.domain.life.actions import Action
from estate.domain.life.people import Person
from estate.domain.places import Outlet
from estate.domain.register import Batch, RegisterIdentity
from estate.domain.roles import Role
from estate.domain.today import Today
from estate.domain.valves import Fitting, Valve


@dataclass(frozen=True, slots=True)
class EstateReading:
    """One reading of a register on a day.

    Attributes:
        tree: places in walking order, with what needs attention at each.
        lines: every valve in place that serves an outlet in use, in walking order.
        today: the first page, without the months before.
        actions: live ones and done ones.
        people: those who left too.
        outlets: in walking order, retired ones too.
        valves: every body, by its id.
        fittings: where bodies are and have been.
        batches: what was brought in, oldest first.
        role: what the account may do that the register was opened with.
    """

    identity: RegisterIdentity
    tree: tuple[PlaceNode, ...]
    lines: tuple[DueLine, ...]
    today: Today
    instruments: tuple[Instrument, ...] = ()
    actions: tuple[Action, ...] = ()
    people: tuple[Person, ...] = ()
    batches: tuple[Batch, ...] = ()
    outlets: tuple[Outlet, ...] = ()
    valves: Mapping[int, Valve] = field(default_factory=dict)
    fittings: tuple[Fitting, ...] = ()
    role: Role = Role.OWNER
