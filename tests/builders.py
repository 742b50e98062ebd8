"""Values for tests, with what a test does not care about filled in."""

from dataclasses import replace
from datetime import date
from typing import Any

from estate.domain.findings import Finding, Judgement
from estate.domain.instruments import Calibration, Instrument
from estate.domain.judging.case import Case
from estate.domain.judging.standards import standards_for
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.rules.values import RuleSet
from estate.domain.valves import ModelLimits, SchemeClass, Valve
from estate.domain.visits import Isolation, Readings, VisitDraft, VisitKind
from estate.operations.open_register import published_rule_sets

TODAY = date(2026, 11, 25)
COMMISSIONED = date(2026, 1, 5)

GOOD = Readings(
    hot_c=60.0,
    cold_c=13.0,
    found_c=41.1,
    left_c=41.1,
    flow_l_min=6.0,
    small_draw_c=41.3,
    small_draw_l_min=3.0,
    hot_static_bar=3.0,
    cold_static_bar=3.0,
    hot_flow_bar=2.0,
    cold_flow_bar=2.0,
    cold_isolated=Isolation(
        max_c=41.6, stabilised_c=41.4, residual_ml_min=0.0, residual_c=41.2, shut_s=1.5, said_to_shut=True
    ),
    hot_isolated=Isolation(residual_ml_min=0.0, shut_s=1.5, said_to_shut=True),
    adjusted=False,
    strainers_cleaned=True,
    check_valves_good=True,
    isolating_valves_open=True,
    cap_refitted=True,
)


def healthcare() -> RuleSet:
    """The healthcare rule set as published."""
    return published_rule_sets()["uk-healthcare"]


def outlet(use: Use = Use.BASIN, users: UserGroup = UserGroup.PATIENTS, **fields: Any) -> Outlet:
    """One outlet."""
    path = OutletPath("Marlpit Cross", "Main Block", "G", "G01", "Bathroom", "Basin 1")
    base = Outlet(1, "MM/G/G01/WHB1", path, use, user_group=users, position_id=1, pipe_m=1.0)
    return replace(base, **fields)


def valve(set_c: float | None = 41.0, **fields: Any) -> Valve:
    """One Type 3 valve with all that its checks need."""
    base = Valve(
        1,
        "Make A",
        "A15",
        "A15-1",
        scheme_class=SchemeClass.TYPE_3,
        designations=("HP-W", "HP-S", "HP-T44", "HP-T46", "HP-B"),
        set_c=set_c,
        limits=ModelLimits(min_differential_k=10.0, max_pressure_ratio=5.0),
    )
    return replace(base, **fields)


def instrument(u: float | None = 0.25, **fields: Any) -> Instrument:
    """A thermometer in calibration all through 2026."""
    calibration = Calibration(date(2026, 1, 1), date(2027, 1, 1))
    base = Instrument(1, "T-1", specification="probe", standard_uncertainty_k=u, calibrations=(calibration,))
    return replace(base, **fields)


def draft(
    on: date = TODAY, kind: VisitKind = VisitKind.IN_SERVICE, readings: Readings = GOOD, **fields: Any
) -> VisitDraft:
    """A visit to valve 1 at outlet 1, in good order unless told otherwise."""
    return VisitDraft(1, 1, kind, on, replace(readings, **fields), "A. Thorne", 1)


def _valve_for(use: Use) -> Valve:
    return valve({Use.BATH: 44.0, Use.ASSISTED_BATH: 46.0, Use.BIDET: 38.0}.get(use, 41.0))


def case(
    visit: VisitDraft | None = None,
    *,
    previous: VisitDraft | None = None,
    reference: VisitDraft | None = None,
    rules: RuleSet | None = None,
    use: Use = Use.BASIN,
    users: UserGroup = UserGroup.PATIENTS,
    valve: Valve | None = None,
    outlets: tuple[Outlet, ...] = (),
    **fields: Any,
) -> Case:
    """A case with a reference and a previous visit in good order unless told otherwise."""
    began = reference or draft(COMMISSIONED, VisitKind.COMMISSIONING, found_c=None)
    served = outlets or (outlet(use, users),)
    base = Case(
        visit=visit or draft(),
        standards=standards_for(served, valve or _valve_for(use), rules or healthcare()),
        pipe_m=served[0].pipe_m,
        instrument=instrument(),
        previous=previous or began,
        reference=began,
        previous_instrument=instrument(),
        strainers_due=date(2027, 1, 5),
    )
    return replace(base, **fields)


def check(judgement: Judgement, code: str) -> Finding:
    """The one check of a code."""
    (found,) = [each for each in judgement.checks if each.code == code]
    return found
