"""Small registers for the store's tests."""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.places import Use, UserGroup
from estate.domain.valves import Valve
from estate.domain.visits import Isolation, Readings, Source, VisitDraft, VisitKind
from estate.store import places, valves
from estate.store.transaction import Transaction

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
DAY = date(2026, 11, 24)

EVERYTHING_MEASURED = Readings(
    hot_c=60.5,
    cold_c=14.9,
    found_c=41.3,
    left_c=41.0,
    flow_l_min=6.2,
    small_draw_c=41.5,
    small_draw_l_min=2.0,
    hot_static_bar=3.1,
    cold_static_bar=3.3,
    hot_flow_bar=2.4,
    cold_flow_bar=2.6,
    cold_isolated=Isolation(42.1, 41.2, 35.0, 40.9, 2.5, True),
    hot_isolated=Isolation(41.9, 20.1, 12.5, 19.0, 3.6, False),
    adjusted=True,
    strainers_cleaned=False,
    check_valves_good=True,
    isolating_valves_open=True,
    cap_refitted=False,
)

SOURCE = Source("round.csv", "round", 7, (("Date", "24/11/2026"), ("Ref", "MX-1"), ("Ref", "again")))


@dataclass(frozen=True)
class Basin:
    """Ids of one basin with its valve in place."""

    room_id: int
    position_id: int
    outlet_id: int
    valve_id: int


def add_basin(tx: Transaction, reference: str = "MX-G-01-B1", room: str = "Bay 1", **fields: Any) -> Basin:
    """A basin in the main block, with a valve fitted on 2 January 2024."""
    room_id = places.ensure_room(tx, "Marlpit Cross", "Main block", "G", "01", room)
    position_id = places.add_position(tx, room_id, "under the basin")
    settled: dict[str, Any] = {"use": Use.BASIN, "user_group": UserGroup.PATIENTS, "pipe_m": 0.6, **fields}
    outlet_id = places.add_outlet(
        tx, room_id=room_id, position_id=position_id, reference=reference, name="Basin", **settled
    )
    valve_id = valves.add_valve(tx, Valve(0, "Invented", "Model A", f"S-{reference}"))
    valves.fit(tx, valve_id, position_id, date(2024, 1, 2))
    return Basin(room_id, position_id, outlet_id, valve_id)


def draft(basin: Basin, on: date = DAY, readings: Readings | None = None, **fields: Any) -> VisitDraft:
    """An in-service test of a basin's valve."""
    found = Readings(found_c=41.2) if readings is None else readings
    return VisitDraft(basin.valve_id, basin.outlet_id, VisitKind.IN_SERVICE, on, found, **fields)


JUDGED = Judgement(
    "uk-healthcare",
    "1",
    (
        Finding("left-above-ceiling", Outcome.MET, "41.0 °C, at most 41 °C", None, True, 41.0, 41.0, "°C"),
        Finding(
            "shut-off-residual",
            Outcome.NOT_MET,
            "35 ml/min still flow",
            Severity.PUT_RIGHT,
            True,
            35.0,
            20.0,
            "ml/min",
            "D08-91: a document",
            "Clean the strainers",
            (0.0, 2.5),
        ),
        Finding("hot-supply-cool", Outcome.NOT_TESTED, "hot supply not measured"),
    ),
)
