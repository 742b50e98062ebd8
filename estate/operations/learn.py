"""What the register has learned of its valves, by the groups fitted last."""

from collections.abc import Iterable
from datetime import date

from estate.domain.learned import GroupParameters, Learned, LearnedLine
from estate.domain.limits import limits_for
from estate.domain.places import Outlet
from estate.domain.valves import Fitting
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.register import Register
from estate.scheduler.learning import Asked, group_names, learn


def learned_of(holdings: Holdings, fittings: Iterable[Fitting]) -> dict[int, Learned]:
    """Drift, shut-off and regulation of bodies in place, by the valve's id.

    Empty before groups have been fitted: then windows come from stages, intervals and findings alone.
    """
    if not holdings.fits:
        return {}
    served = [
        (each, holdings.by_position[each.position_id])
        for each in fittings
        if each.position_id in holdings.by_position
    ]
    groups = [group_of(holdings, fitting, outlets[0]) for fitting, outlets in served]
    asked = [asked_of(holdings, fitting, outlets) for fitting, outlets in served]
    found = learn([holdings.life(fitting) for fitting, _ in served], groups, asked)
    return {fitting.valve_id: each for (fitting, _), each in zip(served, found, strict=True)}


def names_of(holdings: Holdings, fitting: Fitting, outlet: Outlet) -> tuple[str, ...]:
    """The groups that a valve belongs to, narrowest first."""
    valve = holdings.valves[fitting.valve_id]
    return group_names(f"{valve.make} {valve.model}".strip(), outlet.path.site)


def group_of(holdings: Holdings, fitting: Fitting, outlet: Outlet) -> GroupParameters:
    """The narrowest fitted group of a valve; there is always the whole estate."""
    names = names_of(holdings, fitting, outlet)
    return holdings.fits[next(name for name in names if name in holdings.fits)]


def asked_of(holdings: Holdings, fitting: Fitting, outlets: tuple[Outlet, ...]) -> Asked:
    """Ceiling and accepted risks of a valve, for the most vulnerable of its users."""
    rules = holdings.rules_at(outlets[0])
    users = max((each.user_group for each in outlets), key=lambda group: group.vulnerability)
    group = users.value.split()[0]
    ceiling = limits_for(outlets, holdings.valves[fitting.valve_id], rules).ceiling_c
    return Asked(
        ceiling_c=None if ceiling is None else ceiling.value,
        accepted_risk=rules.number(f"policy.risk.{group}"),
        accepted_share=rules.number(f"policy.unavailability.{group}"),
        residual_ml_min=rules.number("isolation.residual-flow"),
    )


def learned_lines(register: Register, today: date) -> tuple[LearnedLine, ...]:
    """What has been learned of every valve in place, in walking order; empty before the first fit."""
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, on=today)
    in_place = holdings.in_place(today)
    found = learned_of(holdings, in_place.values())
    lines = []
    for position, outlets in holdings.by_position.items():
        fitting = in_place.get(position)
        if fitting is None or fitting.valve_id not in found:
            continue
        valve, first = holdings.valves[fitting.valve_id], outlets[0]
        ceiling = limits_for(outlets, valve, holdings.rules_at(first)).ceiling_c
        lines.append(
            LearnedLine(
                ref=first.reference,
                outlet_id=first.id,
                valve=valve.words,
                path=first.path,
                learned=found[fitting.valve_id],
                ceiling_c=None if ceiling is None else ceiling.value,
            )
        )
    return tuple(lines)
