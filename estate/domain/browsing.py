"""What the tree and the outlet page show: prepared values, no queries behind them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from estate.domain.field_limits import FieldLimit
from estate.domain.findings import Judgement
from estate.domain.learned import Learned
from estate.domain.life.actions import Action
from estate.domain.life.outlet_use import UseOfOutlet
from estate.domain.places import Outlet
from estate.domain.signatures import UNSIGNED, Signing
from estate.domain.standing import OutletState
from estate.domain.valves import Fitting, Valve
from estate.domain.visits import Attempt, Visit
from estate.domain.windows import Window


class PlaceKind(StrEnum):
    """Storeys of the tree."""

    SITE = "site"
    BUILDING = "building"
    LEVEL = "level"
    ROOM = "room"
    OUTLET = "outlet"


@dataclass(frozen=True, slots=True)
class PlaceNode:
    """One node of the tree with everything below it.

    Attributes:
        state: the worst state at or below the node.
        attention: how many outlets at or below it need someone to act now.
        search_words: what the search box looks in: reference, names, valve, serial.
    """

    kind: PlaceKind
    id: int
    label: str
    state: OutletState
    attention: int
    outlets: int
    search_words: str = ""
    children: tuple["PlaceNode", ...] = ()


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """A visit as the history shows it: with its judgement, the body it was made to, and who signed it."""

    visit: Visit
    valve: Valve
    judgement: Judgement
    signing: Signing = UNSIGNED


@dataclass(frozen=True, slots=True)
class OutletPage:
    """Everything the outlet page shows.

    Attributes:
        valve: the body in place today; None if there is none.
        fittings: all bodies at the outlet's position, newest first, with their days.
        also_serves: references of further outlets on the same valve.
        set_c, ceiling_c: limits in force, °C, with their sources; None where there is none.
        would_change: what would move the next date.
        learned: drift, shut-off and regulation; None before groups have been fitted.
        history: newest first, every body of the position, void and corrected entries too.
        attempts: visits at which nobody could get at the valve, newest first; void ones too.
        limits: what readings are held against, by field such as ``cold_isolated.max_c``.
        use: whether people draw water there.
        actions: what must still be done there, oldest first.
    """

    outlet: Outlet
    state: OutletState
    rule_set: str
    valve: Valve | None = None
    fittings: tuple[tuple[Fitting, Valve], ...] = ()
    also_serves: tuple[str, ...] = ()
    set_c: float | None = None
    set_source: str = ""
    ceiling_c: float | None = None
    ceiling_source: str = ""
    window: Window | None = None
    judgement: Judgement | None = None
    would_change: tuple[str, ...] = ()
    learned: Learned | None = None
    history: tuple[HistoryLine, ...] = field(default=())
    attempts: tuple[Attempt, ...] = ()
    limits: Mapping[str, FieldLimit] = field(default_factory=dict)
    use: UseOfOutlet = field(default_factory=UseOfOutlet)
    actions: tuple[Action, ...] = ()
