"""A made-up estate as the operations would hand it to the window."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from estate.domain.browsing import HistoryLine, OutletPage, PlaceKind, PlaceNode
from estate.domain.changes import ChangeSet
from estate.domain.conflicts import Rows, Seen
from estate.domain.due import DueLine
from estate.domain.editing import (
    Edited,
    OutletChange,
    OutletDraft,
    Place,
    PlaceNames,
    ValveChange,
    Written,
)
from estate.domain.findings import Finding, Judgement, Outcome, Severity, Verdict
from estate.domain.learned import (
    DriftEstimate,
    GroupParameters,
    Learned,
    LearnedLine,
    RegulationEstimate,
    ShutOffEstimate,
)
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.standing import OutletState
from estate.domain.valves import Fitting, SchemeClass, Valve
from estate.domain.visits import Isolation, Readings, Source, Standing, Visit, VisitDraft, VisitKind
from estate.domain.windows import Candidate, Reason, Window
from estate.errors import KnownFault

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
STAGE = Reason("stage-1", "First test 6 to 8 weeks after commissioning on 1 Oct 2026", "D08-80: TMV3 scheme")


def window(before: int, after: int, reason: Reason = STAGE) -> Window:
    """A test window from some days to some days from today."""
    first, last = TODAY + timedelta(days=before), TODAY + timedelta(days=after)
    later = Candidate(last, last + timedelta(days=90), Reason("yearly", "Once a year at least", "HSE-10"))
    return Window((Candidate(first, last, reason), later))


def path(number: int = 1) -> OutletPath:
    """Where an outlet is."""
    return OutletPath("Marlpit Cross", "Main Block", "G", f"G{number:02}", "Bathroom", "Basin 1")


def due_line(number: int = 1, before: int = -60, after: int = -10, **fields: Any) -> DueLine:
    """One due line."""
    line = DueLine(
        ref=f"MM/G/G{number:02}/WHB1",
        outlet_id=number,
        valve_id=number,
        valve=f"Make A A15 A15-{number}",
        path=path(number),
        use=Use.BASIN,
        user_group=UserGroup.PATIENTS,
        window=window(before, after),
        today=TODAY,
        rule_set="uk-healthcare",
        last_visit=TODAY - timedelta(days=200),
        verdict=Verdict.SATISFACTORY,
    )
    return replace(line, **fields)


def finding(code: str = "left-above-ceiling", **fields: Any) -> Finding:
    """A check that was not met."""
    made = Finding(
        code,
        Outcome.NOT_MET,
        "left at 44.6 °C, ceiling 43.0 °C. Somebody could be hurt.",
        Severity.OUT_OF_USE,
        required=True,
        measured=44.6,
        limit=43.0,
        unit="°C",
        source="D08-33: TMV3 scheme",
        action="Take the outlet out of use.",
    )
    return made._replace(**fields)


def not_tested(required: bool = True) -> Finding:
    """A check whose value is missing."""
    return Finding("shut-off", Outcome.NOT_TESTED, "shut-off was not tested", required=required)


def met() -> Finding:
    """A check that was met."""
    return Finding("found", Outcome.MET, "found 41.2 °C, ceiling 43.0 °C", required=True)


def judgement(*checks: Finding) -> Judgement:
    """A judgement under the healthcare rules."""
    return Judgement("uk-healthcare", "2026-11", checks or (met(),))


VALVE = Valve(
    1, "Make A", "A15", "A15-1", SchemeClass.TYPE_3, designations=("HP-W",), set_c=41.0, strainers=True
)


def visit(number: int = 1, ago: int = 200, **fields: Any) -> Visit:
    """One visit."""
    readings = Readings(
        hot_c=60.2,
        cold_c=12.0,
        found_c=41.4,
        left_c=41.4,
        cold_isolated=Isolation(shut_s=1.5, residual_ml_min=0.0),
    )
    draft = VisitDraft(
        1,
        1,
        VisitKind.IN_SERVICE,
        TODAY - timedelta(days=ago),
        readings,
        person="T. Tester",
        instrument_id=7,
        source=Source("round.xlsx", "Main", 12, (("Hot", "60,2"), ("Cold", "12"))),
    )
    return replace(Visit(number, draft, NOW, "A. Officer", batch_id=1), **fields)


def history_line(number: int = 1, ago: int = 200, *checks: Finding, **fields: Any) -> HistoryLine:
    """One line of the history."""
    return HistoryLine(visit(number, ago, **fields), VALVE, judgement(*checks))


def outlet(number: int = 1, **fields: Any) -> Outlet:
    """One outlet."""
    made = Outlet(number, f"MM/G/G{number:02}/WHB1", path(number), Use.BASIN, UserGroup.PATIENTS, number)
    return replace(made, **fields)


def page(**fields: Any) -> OutletPage:
    """An outlet page with three entries, one of them void."""
    made = OutletPage(
        outlet=outlet(),
        state=OutletState.OVERDUE,
        rule_set="uk-healthcare",
        valve=VALVE,
        fittings=((Fitting(1, 1, date(2024, 3, 1)), VALVE),),
        also_serves=("MM/G/G01/SHR2",),
        set_c=41.0,
        set_source="D08-32: Table 2",
        ceiling_c=43.0,
        ceiling_source="D08-32: site test procedure (not verified in the source)",
        window=window(-60, -10),
        judgement=judgement(),
        history=(
            history_line(3, 100),
            history_line(2, 200, finding(), standing=Standing.VOID, void_reason="wrong outlet"),
            history_line(1, 300),
        ),
    )
    return replace(made, **fields)


GROUP = GroupParameters(
    "Make A A15 at Marlpit Cross", 0.008, 0.012, 0.05, 0.2, 0.5, 20.0, 34, 512, TODAY, "1"
)
MIXES = RegulationEstimate(0.9, 0.7, 1.1, 9)
HEALTHY = RegulationEstimate(0.05, -0.1, 0.2, 12)
OPEN = RegulationEstimate(0.4, 0.1, 0.7, 6)


def drift(ago: int = 70, **fields: Any) -> DriftEstimate:
    """Level and drift after the last visit, some days ago."""
    risk = ((4, 0.0004), (8, 0.002), (13, 0.01), (26, 0.12), (52, 0.6))
    made = DriftEstimate(
        TODAY - timedelta(days=ago),
        41.5,
        0.2,
        0.02,
        0.005,
        0.0002,
        risk,
        horizon_weeks=14.2,
        accepted_risk=0.01,
    )
    return replace(made, **fields)


def learned(**fields: Any) -> Learned:
    """What has been learned of a valve."""
    shares = ((4, 0.002), (8, 0.004), (13, 0.006), (26, 0.012), (52, 0.024))
    shut_off = ShutOffEstimate(3.5, 1, 0.05, shares, horizon_weeks=40.0, accepted_share=0.02)
    return replace(Learned(GROUP, drift(), shut_off, HEALTHY), **fields)


def learned_line(number: int = 1, chance: float | None = 0.12, **fields: Any) -> LearnedLine:
    """One line of the drift page."""
    known = learned(drift=drift(risk=() if chance is None else ((26, chance),)))
    line = LearnedLine(
        f"MM/G/G{number:02}/WHB1", number, f"Make A A15 A15-{number}", path(number), known, 43.0
    )
    return replace(line, **fields)


def leaf(number: int, state: OutletState = OutletState.IN_ORDER) -> PlaceNode:
    """An outlet of the tree."""
    label = f"MM/G/G{number:02}/WHB1  Basin 1"
    words = f"MM/G/G{number:02}/WHB1 Make A A15 A15-{number} Basin 1"
    return PlaceNode(PlaceKind.OUTLET, number, label, state, int(state.needs_attention), 1, words)


def parent(kind: PlaceKind, place_id: int, label: str, *children: PlaceNode) -> PlaceNode:
    """A place of the tree with what is below it."""
    worst = min((each.state for each in children), key=lambda state: state.rank)
    attention = sum(each.attention for each in children)
    return PlaceNode(
        kind, place_id, label, worst, attention, sum(each.outlets for each in children), label, children
    )


def tree(rooms: int = 3, states: tuple[OutletState, ...] = (OutletState.IN_ORDER,)) -> tuple[PlaceNode, ...]:
    """One site with one building, one level and a room for each outlet."""
    below = [
        parent(PlaceKind.ROOM, number, f"G{number:02}  Bathroom", leaf(number, states[number % len(states)]))
        for number in range(1, rooms + 1)
    ]
    level = parent(PlaceKind.LEVEL, 1, "Level G", *below)
    return (parent(PlaceKind.SITE, 1, "Marlpit Cross", parent(PlaceKind.BUILDING, 1, "Main Block", level)),)


class RememberedEditing:
    """Changes by hand of an estate that isn't there: each call is remembered and gets a step of its own.

    Attributes:
        calls: names of the port's methods with what they were given, in their order.
        refuses: what the next changes raise; None lets them be.
    """

    def __init__(self, *known: Outlet) -> None:
        self.calls: list[tuple[str, tuple[Any, ...]]] = []
        self.refuses: KnownFault | None = None
        self.known = {each.id: each for each in known}

    def _edited(self, name: str, *given: Any) -> Edited:
        if self.refuses is not None:
            raise self.refuses
        self.calls.append((name, given))
        number = len(self.calls)
        return Edited(ChangeSet(everything=True), Written(number, number), 100 + number)

    def names(self, place: Place) -> PlaceNames:
        """The same for every place."""
        return PlaceNames("Bathroom", "G01")

    def seen(self, noun: str, row_id: int) -> Seen:
        """Nobody else is there."""
        return Seen(noun, row_id)

    def outlets_seen(self, outlet_ids: Sequence[int]) -> Rows:
        """Nobody else is there."""
        return tuple(Seen("outlet", each) for each in outlet_ids)

    def outlets(self, outlet_ids: Sequence[int]) -> tuple[Outlet, ...]:
        """Those that it was made with."""
        return tuple(self.known[each] for each in outlet_ids)

    def add_place(self, above: Place | None, names: PlaceNames, who: str) -> Edited:
        """Remembers it."""
        return self._edited("add_place", above, names, who)

    def add_outlet(self, room_id: int, draft: OutletDraft, who: str) -> Edited:
        """Remembers it."""
        return self._edited("add_outlet", room_id, draft, who)

    def fit_valve(self, outlet_id: int, body: Valve, on: date | None, who: str) -> Edited:
        """Remembers it."""
        return self._edited("fit_valve", outlet_id, body, on, who)

    def rename(self, place: Place, names: PlaceNames, who: str, seen: Seen | None = None) -> Edited:
        """Remembers it."""
        return self._edited("rename", place, names, who, seen)

    def move(self, places: Sequence[Place], to: Place, who: str) -> Edited:
        """Remembers it."""
        return self._edited("move", tuple(places), to, who)

    def remove_empty(self, place: Place, who: str) -> Edited:
        """Remembers it."""
        return self._edited("remove_empty", place, who)

    def amend_outlets(
        self,
        outlet_ids: Sequence[int],
        change: OutletChange,
        who: str,
        why: str = "",
        seen: Seen | Rows | None = None,
    ) -> Edited:
        """Remembers it."""
        return self._edited("amend_outlets", tuple(outlet_ids), change, who, why, seen)

    def amend_valve(
        self, valve_id: int, change: ValveChange, who: str, why: str = "", seen: Seen | None = None
    ) -> Edited:
        """Remembers it."""
        return self._edited("amend_valve", valve_id, change, who, why, seen)

    def retire(self, outlet_ids: Sequence[int], on: date, why: str, who: str) -> Edited:
        """Remembers it."""
        return self._edited("retire", tuple(outlet_ids), on, why, who)

    def take_out(
        self, outlet_ids: Sequence[int], on: date, why: str, who_told: str, sign_placed: bool | None, who: str
    ) -> Edited:
        """Remembers it."""
        return self._edited("take_out", tuple(outlet_ids), on, why, who_told, sign_placed, who)

    def take_back(self, written: Written, who: str, why: str) -> ChangeSet:
        """Remembers it."""
        return self._edited("take_back", written, who, why).changes
