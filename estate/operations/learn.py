"""What the register has learned of its valves, by the groups fitted last."""

from collections.abc import Iterable, Sequence
from datetime import date

from estate.domain.learned import GroupParameters, Learned, LearnedLine
from estate.domain.limits import limits_for
from estate.domain.places import Outlet
from estate.domain.valves import Fitting, Valve
from estate.operations.inventory import Inventory
from estate.operations.plan_basis import read_plan_basis
from estate.operations.register import Register
from estate.scheduler.estimates import Asked, Estimates
from estate.scheduler.learning import group_names
from estate.scheduler.lives import Lives

Served = tuple[Fitting, tuple[Outlet, ...]]
"""A body in place and the outlets in use that it serves."""


def served_by(inventory: Inventory, fittings: Iterable[Fitting]) -> list[Served]:
    """Bodies that serve an outlet in use, each with its outlets."""
    return [
        (each, inventory.by_position[each.position_id])
        for each in fittings
        if each.position_id in inventory.by_position
    ]


def estimates_of(inventory: Inventory, served: Sequence[Served], lives: Lives) -> Estimates | None:
    """What is known of bodies in place, side by side; None before groups have been fitted.

    Args:
        inventory: a reading of the register.
        served: the bodies.
        lives: of the same bodies.
    """
    if not inventory.fits:
        return None
    groups = [group_of(inventory, fitting, outlets[0]) for fitting, outlets in served]
    return Estimates(lives, groups, Asking(inventory).of(served))


def learned_of(inventory: Inventory, fittings: Iterable[Fitting]) -> dict[int, Learned]:
    """Drift, shut-off and regulation of bodies in place, by the valve's id.

    Empty before groups have been fitted: then windows come from stages, intervals and findings alone.
    """
    served = served_by(inventory, fittings)
    bodies = [fitting for fitting, _ in served]
    estimates = estimates_of(inventory, served, inventory.lives(bodies))
    if estimates is None:
        return {}
    return {fitting.valve_id: estimates.learned(row) for row, fitting in enumerate(bodies)}


def names_of(inventory: Inventory, fitting: Fitting, outlet: Outlet) -> tuple[str, ...]:
    """The groups that a valve belongs to, narrowest first."""
    valve = inventory.valves[fitting.valve_id]
    alike = (valve.make, valve.model, outlet.path.site)
    found = inventory.group_names.get(alike)
    if found is None:
        model = f"{valve.make} {valve.model}".strip()
        found = inventory.group_names[alike] = group_names(model, outlet.path.site)
    return found


def group_of(inventory: Inventory, fitting: Fitting, outlet: Outlet) -> GroupParameters:
    """The narrowest fitted group of a valve; there is always the whole estate."""
    names = names_of(inventory, fitting, outlet)
    return inventory.fits[next(name for name in names if name in inventory.fits)]


def asked_of(inventory: Inventory, fitting: Fitting, outlets: tuple[Outlet, ...]) -> Asked:
    """Ceiling and accepted risks of a valve, for the most vulnerable of its users."""
    return Asking(inventory).of([(fitting, outlets)])[0]


class Asking:
    """Finds what has to be known of valves; the many that serve alike are looked up once."""

    def __init__(self, inventory: Inventory) -> None:
        self._inventory = inventory
        self._found: dict[tuple[object, ...], Asked] = {}

    def of(self, served: Sequence[Served]) -> list[Asked]:
        """What has to be known of each body."""
        return [self._one(self._inventory.valves[fitting.valve_id], outlets) for fitting, outlets in served]

    def _one(self, valve: Valve, outlets: tuple[Outlet, ...]) -> Asked:
        rules = self._inventory.rules_at(outlets[0])
        alike = (id(rules), valve.set_c, *((each.use, each.user_group) for each in outlets))
        if alike not in self._found:
            users = max((each.user_group for each in outlets), key=lambda group: group.vulnerability)
            group = users.value.split()[0]
            ceiling = limits_for(outlets, valve, rules).ceiling_c
            self._found[alike] = Asked(
                ceiling_c=None if ceiling is None else ceiling.value,
                accepted_risk=rules.number(f"policy.risk.{group}"),
                accepted_share=rules.number(f"policy.unavailability.{group}"),
                residual_ml_min=rules.number("isolation.residual-flow"),
            )
        return self._found[alike]


def learned_lines(register: Register, today: date) -> tuple[LearnedLine, ...]:
    """What has been learned of every valve in place, in walking order; empty before the first fit."""
    with register.database.reading() as session:
        basis = read_plan_basis(session, register.published, today)
    in_place = basis.in_place(today)
    served = served_by(basis, (in_place[position] for position in basis.by_position if position in in_place))
    estimates = estimates_of(basis, served, basis.lives([fitting for fitting, _ in served]))
    if estimates is None:
        return ()
    return tuple(
        LearnedLine(
            ref=outlets[0].reference,
            outlet_id=outlets[0].id,
            valve=basis.valves[fitting.valve_id].words,
            path=outlets[0].path,
            learned=estimates.learned(row),
            ceiling_c=estimates.asked[row].ceiling_c,
        )
        for row, (fitting, outlets) in enumerate(served)
    )
