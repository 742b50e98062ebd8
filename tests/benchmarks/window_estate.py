"""A large register for measuring the window: outlets in rooms, four rounds of visits, one in twenty fails."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from estate.domain.findings import Finding, Judgement, Outcome
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations.open_register import new_register
from estate.store import judgements, visits
from estate.store.transaction import Transaction, writing
from tests.store.builders import JUDGED, Basin, add_basin

LAST = datetime(2026, 11, 18, 9, 0, tzinfo=UTC)
_ROUNDS, _APART = 4, timedelta(weeks=26)
_IN_ORDER = Judgement(
    "uk-healthcare",
    "1",
    (
        Finding("left-above-ceiling", Outcome.MET, "41.0 °C, at most 43 °C", None, True, 41.0, 43.0, "°C"),
        Finding("shut-off-residual", Outcome.MET, "nothing flows", None, True, 0.0, 60.0, "ml/min"),
    ),
)
_FAILS = 20
_IN_A_ROOM = 10


def make(where: Path, outlets: int) -> None:
    """Make a register.

    Args:
        where: a file that does not exist yet.
        outlets: how many; 0 leaves it empty.
    """
    first = LAST - _ROUNDS * _APART
    register = new_register(where, "Marlpit Cross", at=first, who="A. Officer")
    try:
        with writing(register.database, "A. Officer", "brought in assets", first) as tx:
            basins = [add_basin(tx, f"MX-{each}", f"Bay {each // _IN_A_ROOM}") for each in range(outlets)]
        for number in range(1, _ROUNDS + 1 if outlets else 0):
            at = first + number * _APART
            with writing(register.database, "A. Officer", f"brought in round {number}", at) as tx:
                _visit(tx, basins, at)
    finally:
        register.close()


def _visit(tx: Transaction, basins: list[Basin], at: datetime) -> None:
    added = visits.add_visits(tx, [_draft(each, at) for each in basins], None)
    told = [(each.id, _IN_ORDER if place % _FAILS else JUDGED) for place, each in enumerate(added)]
    judgements.add_judgements(tx, told)


def _draft(basin: Basin, at: datetime) -> VisitDraft:
    readings = Readings(hot_c=60.2, cold_c=12.1, found_c=41.2, left_c=41.0)
    kind = VisitKind.IN_SERVICE
    return VisitDraft(basin.valve_id, basin.outlet_id, kind, at.date(), readings, person="T. Tester")
