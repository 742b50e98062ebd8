"""What stands where: outlets, valves and the rules that hold for them, without their visits."""

from abc import ABC, abstractmethod
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from estate.domain.learned import GroupParameters
from estate.domain.life.outlet_use import OutletUse, use_of
from estate.domain.places import Outlet
from estate.domain.rules.days import as_of
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Fitting, Valve
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.scheduler.lives import Lives
from estate.store import actions, fits, outlet_use, places, valves
from estate.store.database import Session


@dataclass(frozen=True, kw_only=True)
class Inventory(ABC):
    """One reading of the register.

    Attributes:
        outlets: in walking order, retired ones too.
        fits: parameters fitted to groups, by the group's name; empty before the first fit.
        on: the day that planning speaks of: visits after it are left out of a valve's life; None takes all.
        out_of_use: ids of the outlets that are out of use; not read without a day to plan for.
        to_do: ids of the outlets at which an action is open; not read without a day to plan for.
    """

    outlets: tuple[Outlet, ...]
    valves: Mapping[int, Valve]
    fittings: tuple[Fitting, ...]
    rulebook: RuleBook
    fits: Mapping[str, GroupParameters] = field(default_factory=dict)
    on: date | None = None
    out_of_use: frozenset[int] = frozenset()
    to_do: frozenset[int] = frozenset()

    @cached_property
    def outlet_by_id(self) -> Mapping[int, Outlet]:
        """Every outlet by its id."""
        return {each.id: each for each in self.outlets}

    @cached_property
    def fittings_of(self) -> Mapping[int, tuple[Fitting, ...]]:
        """Every fitting of a body, by the valve's id."""
        found: dict[int, list[Fitting]] = defaultdict(list)
        for fitting in self.fittings:
            found[fitting.valve_id].append(fitting)
        return {valve_id: tuple(each) for valve_id, each in found.items()}

    @cached_property
    def by_position(self) -> dict[int, tuple[Outlet, ...]]:
        """Outlets in use at each position, in walking order."""
        found: dict[int, list[Outlet]] = defaultdict(list)
        for outlet in self.outlets:
            if outlet.retired_on is None:
                found[outlet.position_id].append(outlet)
        return {position: tuple(served) for position, served in found.items()}

    @cached_property
    def group_names(self) -> dict[tuple[str, str, str], tuple[str, ...]]:
        """Names of the groups met so far, by make, model and site: a few for all the valves."""
        return {}

    def fittings_at(self, position_id: int) -> tuple[Fitting, ...]:
        """Every body that has been at a position, newest first."""
        there = [each for each in self.fittings if each.position_id == position_id]
        return tuple(sorted(there, key=lambda each: each.fitted_on or date.min, reverse=True))

    def in_place(self, today: date) -> dict[int, Fitting]:
        """The fitting in place at each position on a day."""
        return {each.position_id: each for each in self.fittings if each.in_place(today)}

    def has_strainers(self, fitting: Fitting) -> bool:
        """False only where it is recorded that a body has none."""
        return self.valves[fitting.valve_id].strainers is not False

    def rules_at(self, outlet: Outlet, on: date | None = None) -> RuleSet:
        """The rules in force at an outlet.

        Args:
            outlet: where.
            on: the day of a visit; None takes the day that planning speaks of, else the newest rules.
        """
        rules, day = self.rulebook.at_outlet(outlet), on or self.on or date.max
        if rules.newest_from is not None:
            return as_of(rules, day)
        there = self._fittings_at.get(outlet.position_id, ())
        return as_of(rules, day, next((each.fitted_on for each in there if each.in_place(day)), None))

    @cached_property
    def _fittings_at(self) -> dict[int, list[Fitting]]:
        found: dict[int, list[Fitting]] = defaultdict(list)
        for fitting in self.fittings:
            found[fitting.position_id].append(fitting)
        return found

    @abstractmethod
    def lives(self, fittings: Sequence[Fitting]) -> Lives:
        """The planner's view of many bodies."""


def inventory_fields(session: Session, published: Mapping[str, RuleSet], on: date | None) -> dict[str, Any]:
    """Read all fields of an `Inventory`.

    Args:
        session: an open session.
        published: rule sets as published.
        on: fits made later are left out; None takes no fits.
    """
    return {
        "outlets": places.outlets(session),
        "valves": valves.valves(session),
        "fittings": valves.fittings(session),
        "rulebook": read_rulebook(session, published),
        "fits": {} if on is None else fits.fits_as_of(session, on),
        "on": on,
        "out_of_use": frozenset() if on is None else _out_of_use(session),
        "to_do": frozenset() if on is None else _to_do(session),
    }


def _out_of_use(session: Session) -> frozenset[int]:
    stands = {outlet_id: use_of(each, None) for outlet_id, each in outlet_use.use_events(session).items()}
    return frozenset(outlet_id for outlet_id, each in stands.items() if each.use is OutletUse.OUT_OF_USE)


def _to_do(session: Session) -> frozenset[int]:
    return frozenset(each.outlet_id for each in actions.actions(session) if each.state.live)
