"""Read actions, how outlets stand, and what upkeep is asked for."""

from collections.abc import Iterable, Mapping
from datetime import date

from estate.domain.life.actions import Action
from estate.domain.life.lists import ActionLine, ActionTally, OutletLife
from estate.domain.life.next_step import next_step, possible_steps
from estate.domain.life.outlet_use import (
    USE_MOVES,
    OutletUse,
    UseDraft,
    UseEvent,
    UseOfOutlet,
    UseStep,
    use_of,
    use_refusal,
)
from estate.domain.life.policy import escalation
from estate.operations.browse_upkeep import upkeep_of
from estate.operations.holdings import read_holdings
from estate.operations.inventory import Inventory
from estate.operations.register import Register
from estate.operations.use_outlet import actions_about, use_ground, use_now
from estate.store import actions, outlet_use, places
from estate.store.database import Session


def action_lines(
    register: Register,
    today: date,
    *,
    live_only: bool = True,
    late_only: bool = False,
    owner: str | None = None,
    outlet_id: int | None = None,
) -> tuple[ActionLine, ...]:
    """The list of actions: the most pressing first, those done last.

    Args:
        register: the open register.
        today: the as-at day, for ages and escalation.
        live_only: False lists closed and cancelled ones too.
        late_only: only those past their target date.
        owner: only those of this owner; an empty text gives those without one.
        outlet_id: only those at this outlet.
    """
    with register.database.reading() as session:
        found = actions.actions(session) if outlet_id is None else actions.actions_at(session, [outlet_id])
        events = outlet_use.use_events(session)
        inventory = read_holdings(session, register.published, (), judged=False)
    lines = _lines(inventory, events, found, today)
    wanted = [
        each
        for each in lines
        if (each.action.state.live or not live_only)
        and (each.days_late > 0 or not late_only)
        and (owner is None or each.action.owner.casefold() == owner.strip().casefold())
    ]
    return tuple(sorted(wanted, key=_pressing))


def _pressing(line: ActionLine) -> tuple[bool, int, date, int]:
    action = line.action
    if not action.state.live:
        return (True, 0, date.max - ((action.done_on or date.min) - date.min), action.id)
    return (False, -action.severity, action.target_on or date.min, action.id)


def action_line(register: Register, action_id: int, today: date) -> ActionLine:
    """One action with its history.

    Raises:
        NotFoundFault: there is none with this id.
    """
    with register.database.reading() as session:
        found = actions.action(session, action_id)
        events = outlet_use.use_events(session, [found.outlet_id])
        inventory = read_holdings(session, register.published, (), judged=False)
    (line,) = _lines(inventory, events, [found], today)
    return line


def _lines(
    inventory: Inventory, events: Mapping[int, tuple[UseEvent, ...]], found: Iterable[Action], today: date
) -> list[ActionLine]:
    return [_line(inventory, events, each, today) for each in found]


def _line(
    inventory: Inventory, events: Mapping[int, tuple[UseEvent, ...]], action: Action, today: date
) -> ActionLine:
    outlet = inventory.outlet_by_id[action.outlet_id]
    use = use_of(events.get(outlet.id, ()), outlet.retired_on)
    served = inventory.by_position.get(outlet.position_id, ())
    valve = inventory.valves.get(action.opening.valve_id or 0)
    late = action.days_late(today)
    return ActionLine(
        action=action,
        outlet=outlet,
        also_serves=tuple(each.reference for each in served if each.id != outlet.id),
        valve="" if valve is None else valve.words,
        use=use,
        age_days=action.age_days(today),
        days_late=late,
        escalation=escalation(inventory.rulebook.at_outlet(outlet), late),
        next_step=next_step(action, use),
        possible=possible_steps(action),
    )


def tally(register: Register, today: date) -> ActionTally:
    """How many actions are live, late and without an owner, and how many outlets are out of use."""
    lines = action_lines(register, today)
    with register.database.reading() as session:
        events = outlet_use.use_events(session)
        stands = [use_of(events.get(each.id, ()), each.retired_on).use for each in places.outlets(session)]
    return ActionTally(
        today=today,
        live=len(lines),
        late=sum(each.days_late > 0 for each in lines),
        unowned=sum(not each.action.owner for each in lines),
        out_of_use=stands.count(OutletUse.OUT_OF_USE),
    )


def out_of_use(register: Register) -> dict[int, UseOfOutlet]:
    """The outlets out of use, by id."""
    with register.database.reading() as session:
        events = outlet_use.use_events(session)
        stands = {
            each.id: use_of(events.get(each.id, ()), each.retired_on) for each in places.outlets(session)
        }
    return {outlet_id: each for outlet_id, each in stands.items() if each.use is OutletUse.OUT_OF_USE}


def outlet_life(register: Register, outlet_id: int, today: date) -> OutletLife:
    """What is known of an outlet beside its visits: use, actions, upkeep.

    Raises:
        NotFoundFault: there is no such outlet.
    """
    with register.database.reading() as session:
        outlet = places.outlet(session, outlet_id)
        use = use_now(session, outlet)
        may = tuple(step for step in UseStep if (use.use, step) in USE_MOVES)
        refused = _refused(session, register, outlet_id, use) if UseStep.PUT_BACK in may else ""
        upkeep = upkeep_of(session, register, outlet)
    lines = action_lines(register, today, live_only=False, outlet_id=outlet_id)
    return OutletLife(outlet, use, may, refused, lines, upkeep)


def _refused(session: Session, register: Register, outlet_id: int, use: UseOfOutlet) -> str:
    """Why an outlet can't be put back in use now; empty where it can."""
    outlet = places.outlet(session, outlet_id)
    ground = use_ground(session, register, outlet, actions_about(session, outlet))
    asked = UseDraft(UseStep.PUT_BACK, use.since or date.min, "asked whether it can be")
    return use_refusal(use, asked, ground) or ""
