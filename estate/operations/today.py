"""What the first page tells of a register on a day."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from estate.domain.due import DueLine
from estate.domain.figures import figures, in_date, not_in_date, workload
from estate.domain.known_today import Known
from estate.domain.life.outlet_use import UseOfOutlet, use_of
from estate.domain.progress import Progress, silent
from estate.domain.today import Share, Today, month_ends
from estate.operations.browse_upkeep import upkeep_in
from estate.operations.inventory import Inventory
from estate.operations.past_shares import past_shares
from estate.operations.plan_basis import PlanBasis, read_plan_basis
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.store import actions, identity, instruments, outlet_use, people
from estate.store.database import Session

MONTHS_BACK = 12


def today_of(register: Register, today: date) -> Today:
    """Work out the first page from one reading of the register, without the months before (`with_past`).

    Args:
        register: the open register.
        today: the as-at day.
    """
    with register.database.reading() as session:
        basis = read_plan_basis(session, register.published, today)
        return today_in(session, basis, lines_of(basis, today), today)


def today_in(session: Session, basis: PlanBasis, lines: Sequence[DueLine], today: date) -> Today:
    """The same from an open session, with what was read and planned from it."""
    known = _known(session, basis, lines, today)
    now = Share(today, len(known.lines), sum(map(in_date, known.lines)))
    return Today(
        today=today,
        estate=identity.name(session),
        valves=len(known.lines),
        figures=figures(known),
        shares=(now,),
        not_in_date=not_in_date(known),
        workload=workload(known),
        out_of_use=known.out_of_use(),
    )


def with_past(
    register: Register, told: Today, months_back: int = MONTHS_BACK, progress: Progress = silent
) -> Today:
    """The same page with the share at the ends of the months before; nothing else is worked out again.

    Args:
        register: the open register.
        told: the page.
        months_back: how many months.
        progress: called between the steps; what it raises stops the work, which may be begun again.
    """
    with register.database.reading() as session:
        progress(0, months_back, "the register")
        basis = read_plan_basis(session, register.published, told.today, judged=False)
        past = past_shares(session, basis, month_ends(told.today, months_back), progress)
    return replace(told, shares=(*past, told.shares[-1]))


def _known(session: Session, basis: PlanBasis, lines: Sequence[DueLine], today: date) -> Known:
    return Known(
        today=today,
        lines=lines,
        outlets=basis.outlets,
        served=_served(basis),
        uses=_uses(session, basis),
        actions=actions.actions(session),
        instruments=instruments.instruments(session),
        people=people.people(session),
        care=upkeep_in(session, basis.rulebook, basis.outlets),
    )


def _served(inventory: Inventory) -> dict[int, tuple[int, ...]]:
    """Ids of the outlets in use on each valve, by the id of each of them."""
    return {
        outlet.id: tuple(each.id for each in outlets)
        for outlets in inventory.by_position.values()
        for outlet in outlets
    }


def _uses(session: Session, inventory: Inventory) -> dict[int, UseOfOutlet]:
    events = outlet_use.use_events(session)
    by_id = inventory.outlet_by_id
    return {outlet_id: use_of(done, by_id[outlet_id].retired_on) for outlet_id, done in events.items()}
