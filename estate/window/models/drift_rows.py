"""Columns of the drift page, and which of its lines are wanted."""

from collections.abc import Callable

from estate.domain.learned import DriftEstimate, LearnedLine
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.drift_words import OF_REGULATES, Regulates, level, regulates, speed
from estate.window.models.table import TableModel

WEEKS = 26
"""The chance by which valves are ordered is that within so many weeks of the last visit."""
_NOTHING = Cell(words.NOTHING, float("inf"), to_right=True, tip="nothing can be said")


def chance_of(line: LearnedLine) -> float | None:
    """Chance to reach the ceiling within 26 weeks of the last visit; None where it can't be said."""
    drift = line.learned.drift
    return dict(drift.risk).get(WEEKS) if drift is not None else None


def _chance(line: LearnedLine) -> Cell:
    chance = chance_of(line)
    if chance is None:
        tip = "no ceiling is given" if line.ceiling_c is None else "nothing is known of its drift"
        return Cell(words.NOTHING, float("inf"), to_right=True, tip=tip)
    return Cell(words.share(chance, unit=False), -chance, to_right=True, tip=f"{chance:.3%}")


def _where(line: LearnedLine) -> Cell:
    path = line.path
    shown = " · ".join(part for part in (path.building, path.level, path.room_words) if part)
    return Cell(shown, shown.casefold(), tip=f"{path.site} · {path}")


def _drift(line: LearnedLine) -> Cell:
    return _of_drift(line, speed, lambda drift: -drift.drift_k_per_week)


def _level(line: LearnedLine) -> Cell:
    return _of_drift(line, level, lambda drift: -drift.level_c)


def _of_drift(
    line: LearnedLine, said: Callable[[DriftEstimate], str], order: Callable[[DriftEstimate], float]
) -> Cell:
    drift = line.learned.drift
    if drift is None:
        return _NOTHING
    return Cell(said(drift), order(drift), to_right=True, tip=f"{said(drift)}, two standard deviations")


def _failures(line: LearnedLine) -> Cell:
    shut = line.learned.shut_off
    if shut is None:
        return _NOTHING
    tip = f"{shut.passed_years:.1f} years shown in order; {shut.rate_per_year:.3f} failures a year expected"
    return Cell(str(shut.failures), float(-shut.failures), to_right=True, tip=tip)


def _index(line: LearnedLine) -> Cell:
    found = line.learned.regulation
    if found is None:
        return _NOTHING
    tip = f"{found.low:.2f} to {found.high:.2f}, from {words.count(found.readings, 'reading')}"
    return Cell(f"{found.index:.2f}", -found.index, to_right=True, tip=tip)


_ORDER = {Regulates.NO: 0.0, Regulates.OPEN: 1.0, Regulates.YES: 2.0}


def _regulates(line: LearnedLine) -> Cell:
    said = regulates(line.learned.regulation)
    return Cell(said.value, _ORDER[said], OF_REGULATES[said])


def _last(line: LearnedLine) -> Cell:
    return cells.on_day(line.learned.drift.at if line.learned.drift is not None else None)


_TITLE = f"Reaches ceiling\nin {WEEKS} weeks, %"

COLUMNS: tuple[Column[LearnedLine], ...] = (
    Column("Outlet", lambda line: cells.text(line.ref, line.valve), "WW/W/W00/WHB1"),
    Column(_TITLE, _chance, "less than 0.1", tip=f"Within {WEEKS} weeks of the last visit"),
    Column("Drift\nK a week", _drift, "+0.000 ± 0.000"),
    Column("Level\n°C", _level, "40.0 ± 0.0"),
    Column("Ceiling\n°C", lambda line: cells.figure(line.ceiling_c, 1, "no ceiling is given"), "Ceiling "),
    Column("Shut-off\nfailures", _failures, "1,000", tip="Tests that found the shut-off failed"),
    Column("Regulates", _regulates, "can't tell", marked=True, tip="From the regulation index"),
    Column("Index", _index, "0.00", tip="Regulation index: 0 regulates, 1 only mixes"),
    Column("Last visit", _last, "25 Nov 2026"),
    Column("Where", _where, "Main building · 1 · W00 Assisted bat", stretches=True),
    Column("Valve", lambda line: cells.text(line.valve), "Make Model WW-000000"),
)
CHANCE = 1


class DriftModel(TableModel[LearnedLine]):
    """The valves of the estate by what was learned of them."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda line: line.outlet_id)


def wanting(mixing_only: bool, text: str = "") -> Callable[[LearnedLine], bool]:
    """A test for lines: valves that no longer regulate, or all; and by words."""
    sought = text.casefold().split()

    def wanted(line: LearnedLine) -> bool:
        if mixing_only and regulates(line.learned.regulation) is not Regulates.NO:
            return False
        heard = " ".join((line.ref, line.valve, str(line.path), line.path.site, line.learned.group.name))
        return all(word in heard.casefold() for word in sought)

    return wanted
