"""What lists and pages of actions show: prepared values."""

from dataclasses import dataclass
from datetime import date

from estate.domain.life.actions import Action, Step
from estate.domain.life.care import CareLine
from estate.domain.life.outlet_use import UseOfOutlet, UseStep
from estate.domain.life.policy import Escalation
from estate.domain.places import Outlet


@dataclass(frozen=True, slots=True)
class ActionLine:
    """One line of the list of actions.

    Attributes:
        also_serves: references of further outlets on the same valve.
        valve: the body that it is about, in words; empty where it is about none.
        use: how its outlet stands.
        age_days: since it was found.
        days_late: past its target; 0 in time.
        escalation: who is to be told; None in time.
        next_step: what is to be done now, in words.
        possible: what a person may do about it now; the register does the rest by itself.
    """

    action: Action
    outlet: Outlet
    also_serves: tuple[str, ...]
    valve: str
    use: UseOfOutlet
    age_days: int
    days_late: int
    escalation: Escalation | None
    next_step: str
    possible: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class OutletLife:
    """What is known of an outlet beside its visits.

    Attributes:
        actions: live ones first, then the newest.
        may: what a person may do about its use now.
        refused: why it can't be put back in use; empty where it can, or is in use.
        upkeep: what is asked for, and when.
    """

    outlet: Outlet
    use: UseOfOutlet
    may: tuple[UseStep, ...]
    refused: str
    actions: tuple[ActionLine, ...]
    upkeep: tuple[CareLine, ...]


@dataclass(frozen=True, slots=True)
class ActionTally:
    """Counts of the actions that are live on a day.

    Attributes:
        late: past their target.
        unowned: without an owner.
        out_of_use: outlets out of use.
    """

    today: date
    live: int
    late: int
    unowned: int
    out_of_use: int
