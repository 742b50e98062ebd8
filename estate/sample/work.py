"""What people of the sample estate did beside their visits: actions, an outlet out of use, upkeep, people."""

from datetime import date, datetime

from estate.domain.findings import Severity
from estate.domain.life.actions import Action, Step
from estate.domain.life.care import CareAsked, CareDraft, CareKind, ReviewDraft
from estate.domain.life.outlet_use import UseStep
from estate.domain.life.people import Competence
from estate.domain.places import Outlet, Use
from estate.domain.visits import VisitKind
from estate.operations.browse_actions import action_lines
from estate.operations.browse_upkeep import upkeep_lines
from estate.operations.keep_people import add_person
from estate.operations.keep_upkeep import record_care, review_outlet
from estate.operations.move_action import move_action
from estate.operations.open_action import open_action
from estate.operations.plan_retests import due_lines
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.type_visit import TypedVisit, draft_of
from estate.operations.use_outlet import use_outlet

THORNE, OSEI, VELDE = "A. Thorne", "M. Osei", "R. Velde"
STOPPED, FITTED_ANEW = "MM/2/218/WHB1", "MM/1/102/WHB1"
MENDED, PUT_OFF, NOTED = "MM/1/107/BID2", "WL/G/G02/WHB1", "WL/G/G06/ABT2"
SEEN_YES = [
    "designation-fits",
    "right-way-round",
    "washers",
    "strainers-fitted",
    "check-valves-fitted",
    "isolating-valves-fitted",
    "watertight",
    "access",
    "support",
    "clearance",
    "full-travel",
]
READ = [
    "hot_static_bar=3.1",
    "cold_static_bar=3.0",
    "hot_flow_bar=1.4",
    "cold_flow_bar=1.5",
    "hot_c=60.4",
    "cold_c=12.8",
    "flow_l_min=6.2",
    "small_draw_c=40.8",
    "small_draw_l_min=3",
    "cold_isolated.shut_s=1.6",
    "cold_isolated.max_c=41.3",
    "cold_isolated.residual_ml_min=0",
    "hot_isolated.shut_s=1.9",
    "hot_isolated.residual_ml_min=0",
    "cap_refitted=yes",
    "strainers_cleaned=yes",
]


def work(register: Register, today: date, who: str, at: datetime) -> None:
    """Do what stands here; an estate of fewer outlets, which lacks some of the places, gets less of it.

    Args:
        register: the sample with its visits.
        today: the as-at day.
        who: the officer who enters it.
        at: the moment of entry, UTC.
    """
    _people(register, who, at)
    _commissioning(register, today, who, at)
    found = {line.outlet.reference: line.action for line in action_lines(register, today)}
    for step in (_out_of_use, _put_right, _put_off, _noted, _closed):
        step(register, found, who, at)
    outlets = [line.outlet for line in upkeep_lines(register, today, asked=CareAsked.REVIEW)]
    _by_hand(register, outlets, who, at)
    _upkeep(register, outlets, today, who, at)


def _people(register: Register, who: str, at: datetime) -> None:
    what = "testing and servicing thermostatic mixing valves"
    for name, position, held in (
        (THORNE, "fitter", Competence(what, date(2022, 4, 4), date(2028, 4, 3), "TH-2219")),
        (
            "D. Farrow",
            "fitter of a contractor",
            Competence(what, date(2021, 1, 11), date(2026, 1, 10), "F-8"),
        ),
    ):
        add_person(register, name, position=position, competence=held, who=who, at=at)


def _commissioning(register: Register, today: date, who: str, at: datetime) -> None:
    """A valve that was never tested is commissioned, step by step."""
    waiting = [each for each in due_lines(register, today) if each.verdict is None and each.use is Use.BASIN]
    for line in waiting[:1]:
        typed = TypedVisit(
            outlet=line.ref,
            kind=VisitKind.COMMISSIONING,
            on=date(2026, 11, 19),
            readings=(*READ, "left_c=41.0"),
            seen=tuple(f"{key}=yes" for key in SEEN_YES),
            person=THORNE,
            instrument="T-101",
            remarks="Commissioned after the survey found no record of it.",
        )
        record_visit(register, draft_of(register, typed), who=who, at=at, today=today)


def _out_of_use(register: Register, found: dict[str, Action], who: str, at: datetime) -> None:
    action = found.get(STOPPED)
    if action is None:
        return
    on = action.opening.found_on
    move_action(register, action.id, Step.ASSIGN, on=on, owner=VELDE, who=who, at=at)
    use_outlet(
        register,
        action.outlet_id,
        UseStep.TAKE_OUT,
        on=on,
        why="Too hot and not shutting off; parts are ordered.",
        who_told="Ward sister K. Brandt",
        sign_placed=True,
        who=who,
        at=at,
    )


def _put_right(register: Register, found: dict[str, Action], who: str, at: datetime) -> None:
    action = found.get(MENDED)
    if action is not None:
        on, why = date(2026, 11, 20), "Element cleaned and set down; the retest is arranged."
        move_action(register, action.id, Step.ASSIGN, on=on, owner=OSEI, who=who, at=at)
        move_action(register, action.id, Step.PUT_RIGHT, on=on, why=why, who=who, at=at)


def _put_off(register: Register, found: dict[str, Action], who: str, at: datetime) -> None:
    action = found.get(PUT_OFF)
    if action is not None:
        on, to = date(2026, 11, 20), date(2026, 12, 11)
        why = "The hot circuit of the Lodge is rebalanced in the week before."
        move_action(register, action.id, Step.ASSIGN, on=on, owner=THORNE, who=who, at=at)
        move_action(register, action.id, Step.RETARGET, on=on, target_on=to, why=why, who=who, at=at)


def _noted(register: Register, found: dict[str, Action], who: str, at: datetime) -> None:
    action = found.get(NOTED)
    if action is not None:
        why = "Return pipe measured at 47 °C; the contractor of the boiler house was asked."
        move_action(register, action.id, Step.NOTE, on=date(2026, 11, 18), why=why, who=who, at=at)


def _closed(register: Register, found: dict[str, Action], who: str, at: datetime) -> None:
    action = found.get(FITTED_ANEW)
    if action is not None:
        why = "The commissioning and the tests after it were looked at; nothing is left to do."
        move_action(register, action.id, Step.CLOSE, on=date(2026, 11, 24), why=why, who=who, at=at)


def _by_hand(register: Register, outlets: list[Outlet], who: str, at: datetime) -> None:
    there = [each for each in outlets if each.reference.startswith("WE/G/") and each.use is Use.BATH]
    for outlet in there[:1]:
        open_action(
            register,
            outlet.id,
            words="The panel over the valve can't be opened without breaking the seal: fit a hinged one.",
            severity=Severity.WATCH,
            owner=OSEI,
            on=date(2026, 11, 16),
            who=who,
            at=at,
        )


def _upkeep(register: Register, outlets: list[Outlet], today: date, who: str, at: datetime) -> None:
    showers = [each for each in outlets if each.use is Use.SHOWER][:8]
    stopped = [each for each in outlets if each.reference == STOPPED]
    done = [
        CareDraft(each.id, CareKind.SHOWER_HEAD, day, VELDE, remarks="descaled and disinfected")
        for each, day in zip(showers, (date(2026, 7, 6), date(2026, 10, 5)) * 4, strict=False)
    ]
    flushes = (date(2026, 11, 4), date(2026, 11, 11), date(2026, 11, 18))
    done += [CareDraft(each.id, CareKind.FLUSHED, day, VELDE, 180.0) for each in stopped for day in flushes]
    if done:
        record_care(register, done, who=who, at=at, today=today)
    for outlet, needed, why in zip(
        [each for each in outlets if each.reference.startswith("MW/")],
        (True, False),
        (
            "Visitors and trainees use it.",
            "Staff only since the workshop moved; the risk assessment decides.",
        ),
        strict=False,
    ):
        draft = ReviewDraft(outlet.id, date(2026, 11, 9), "the water safety group", needed, why)
        review_outlet(register, draft, who=who, at=at, today=today)
