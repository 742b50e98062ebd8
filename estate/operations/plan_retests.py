"""Work out the next window of every valve in place."""

from dataclasses import dataclass
from datetime import date

from estate.domain.due import DueLine
from estate.operations.inventory import Inventory
from estate.operations.learn import Served, estimates_of, served_by
from estate.operations.plan_basis import read_plan_basis
from estate.operations.register import Register
from estate.scheduler.estimates import Estimates
from estate.scheduler.lives import Lives
from estate.scheduler.planning import Windows, windows_of


@dataclass(frozen=True, slots=True)
class Planned:
    """Every body in place that serves an outlet in use, in walking order, with what was worked out.

    Attributes:
        served: the bodies with their outlets; a row of `windows` each.
        lives: their visits.
        windows: their next windows.
        estimates: drift and shut-off; None before groups have been fitted.
    """

    served: tuple[Served, ...]
    lives: Lives
    windows: Windows
    estimates: Estimates | None


def due_lines(register: Register, today: date) -> tuple[DueLine, ...]:
    """One line for every valve in place that serves an outlet in use, in walking order."""
    with register.database.reading() as session:
        basis = read_plan_basis(session, register.published, today)
    return lines_of(basis, today)


def lines_of(inventory: Inventory, today: date) -> tuple[DueLine, ...]:
    """The due lines of a reading of the register."""
    return planned_lines(inventory, planned(inventory, today), today)


def planned(inventory: Inventory, today: date) -> Planned:
    """Work out which candidate binds at every valve, all at once."""
    in_place = inventory.in_place(today)
    positions = [position for position in inventory.by_position if position in in_place]
    served = served_by(inventory, (in_place[position] for position in positions))
    lives = inventory.lives([fitting for fitting, _ in served])
    estimates = estimates_of(inventory, served, lives)
    rules = [inventory.rules_at(outlets[0]) for _, outlets in served]
    return Planned(tuple(served), lives, windows_of(lives, rules, today, estimates), estimates)


def planned_lines(inventory: Inventory, planned: Planned, today: date) -> tuple[DueLine, ...]:
    """The lines of windows that have been worked out."""
    return tuple(_line(inventory, planned, row, today) for row in range(len(planned.served)))


def _line(inventory: Inventory, planned: Planned, row: int, today: date) -> DueLine:
    fitting, outlets = planned.served[row]
    first, judgement = outlets[0], planned.lives.judgements[row]
    return DueLine(
        ref=first.reference,
        outlet_id=first.id,
        valve_id=fitting.valve_id,
        valve=inventory.valves[fitting.valve_id].words,
        path=first.path,
        use=first.use,
        user_group=max((each.user_group for each in outlets), key=lambda group: group.vulnerability),
        window=planned.windows.window(row),
        today=today,
        rule_set=planned.windows.rules.at(row).id,
        last_visit=planned.lives.last_on(row) if planned.lives.visited[row] else None,
        verdict=judgement.verdict if judgement else None,
        also_serves=tuple(each.reference for each in outlets[1:]),
        out_of_use=all(each.id in inventory.out_of_use for each in outlets),
        to_do=any(each.id in inventory.to_do for each in outlets),
    )
