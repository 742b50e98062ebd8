"""Columns of the drift page, and which of its lines are wanted."""

from collections.abc import Callable

from estate.domain.learned import DriftEstimate, LearnedLine
from estate.domain.places import OutletPath
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.drift_words import OF_REGULATES, Regulates, level, regulates, speed
from estate.window.models.path_columns import path_columns
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count

WEEKS = 26
"""The chance by which valves are ordered is that within so many weeks of the last visit."""


def _nothing() -> Cell:
    return Cell(words.NOTHING, float("inf"), to_right=True, tip=tr("nothing can be said"))


def chance_of(line: LearnedLine) -> float | None:
    """Chance to reach the ceiling within 26 weeks of the last visit; None where it can't be said."""
    drift = line.learned.drift
    return dict(drift.risk).get(WEEKS) if drift is not None else None


def _chance(line: LearnedLine) -> Cell:
    chance = chance_of(line)
    if chance is None:
        tip = tr("no ceiling is given") if line.ceiling_c is None else tr("nothing is known of its drift")
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
    line: LearnedLine, told: Callable[[DriftEstimate], str], order: Callable[[DriftEstimate], float]
) -> Cell:
    drift = line.learned.drift
    if drift is None:
        return _nothing()
    return Cell(
        told(drift),
        order(drift),
        to_right=True,
        tip=tr("{drift}, two standard deviations", drift=told(drift)),
    )


def _failures(line: LearnedLine) -> Cell:
    shut = line.learned.shut_off
    if shut is None:
        return _nothing()
    tip = tr(
        "{passed_years:.1f} years shown in order; {rate_per_year:.3f} failures a year expected",
        passed_years=shut.passed_years,
        rate_per_year=shut.rate_per_year,
    )
    return Cell(str(shut.failures), float(-shut.failures), to_right=True, tip=tip)


def _index(line: LearnedLine) -> Cell:
    found = line.learned.regulation
    if found is None:
        return _nothing()
    tip = tr_count(
        found.readings,
        "{low:.2f} to {high:.2f}, from {n:,} reading",
        "{low:.2f} to {high:.2f}, from {n:,} readings",
        low=found.low,
        high=found.high,
    )
    return Cell(f"{found.index:.2f}", -found.index, to_right=True, tip=tip)


_ORDER = {Regulates.NO: 0.0, Regulates.OPEN: 1.0, Regulates.YES: 2.0}


def _regulates(line: LearnedLine) -> Cell:
    found = regulates(line.learned.regulation)
    return Cell(tr(found.value), _ORDER[found], OF_REGULATES[found])


def _last(line: LearnedLine) -> Cell:
    return cells.on_day(line.learned.drift.at if line.learned.drift is not None else None)


_TITLE = said("Reaches ceiling\nin 26 weeks, %")


def _path(line: LearnedLine) -> OutletPath:
    return line.path


COLUMNS: tuple[Column[LearnedLine], ...] = (
    Column(said("Outlet"), lambda line: cells.text(line.ref, line.valve), "WW/W/W00/WHB1", id="outlet"),
    Column(
        _TITLE, _chance, "less than 0.1", tip=said("Within 26 weeks of the last visit"), id="reaches-ceiling"
    ),
    Column(said("Drift\nK a week"), _drift, "+0.000 ± 0.000", id="drift-k-a-week"),
    Column(said("Level\n°C"), _level, "40.0 ± 0.0", id="level"),
    Column(
        said("Ceiling\n°C"),
        lambda line: cells.figure(line.ceiling_c, 1, tr("no ceiling is given")),
        "Ceiling ",
        id="ceiling",
    ),
    Column(
        said("Shut-off\nfailures"),
        _failures,
        "1,000",
        tip=said("Tests that found the shut-off failed"),
        id="shut-off-failures",
    ),
    Column(
        said("Regulates"),
        _regulates,
        "can't tell",
        marked=True,
        tip=said("From the regulation index"),
        id="regulates",
    ),
    Column(
        said("Index"), _index, "0.00", tip=said("Regulation index: 0 regulates, 1 only mixes"), id="index"
    ),
    Column(said("Last visit"), _last, "25 Nov 2026", id="last-visit"),
    Column(said("Where"), _where, "Main building · 1 · W00 Assisted bat", stretches=True, id="where"),
    Column(said("Valve"), lambda line: cells.text(line.valve), "Make Model WW-000000", id="valve"),
    *path_columns(_path),
    Column(
        said("Learned with"),
        lambda line: cells.text(line.learned.group.name),
        "Make A15",
        tip=said("The group of valves whose readings it is learned with"),
        hidden_at_first=True,
        groups=True,
        id="learned-with",
    ),
)
CHANCE = 1


class DriftModel(TableModel[LearnedLine]):
    """The valves of the estate by what was learned of them."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda line: line.outlet_id, told=_heard)


def wanting(mixing_only: bool, text: str = "") -> Callable[[LearnedLine], bool]:
    """A test for lines: valves that no longer regulate, or all; and by words."""
    sought = text.casefold().split()

    def wanted(line: LearnedLine) -> bool:
        if mixing_only and regulates(line.learned.regulation) is not Regulates.NO:
            return False
        return not sought or all(word in _heard(line).casefold() for word in sought)

    return wanted


def _heard(line: LearnedLine) -> str:
    return " ".join((line.ref, line.valve, str(line.path), line.path.site, line.learned.group.name))
