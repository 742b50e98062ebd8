"""What a change of a rule value would do, as figures, rows and words."""

from dataclasses import dataclass

from estate.domain.preview import Move, PolicyPreview
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.rule_rows import shown_unit
from estate.window.models.table import TableModel


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of the estate now and then, as text."""

    name: str
    now: str
    then: str
    change: str


def figures(preview: PolicyPreview) -> tuple[Figure, ...]:
    """The estate's figures before and after."""
    before, after = preview.before, preview.after
    return (
        _figure("Visits a year", before.visits_a_year, after.visits_a_year, 0),
        _above("Valve-weeks above the ceiling a year", before.weeks_above_a_year, after.weeks_above_a_year),
    )


def _above(name: str, now: float | None, then: float | None) -> Figure:
    if now is None or then is None:
        return Figure(name, _known(now), _known(then), words.NOTHING)
    return _figure(name, now, then, 1)


def _known(weeks: float | None) -> str:
    return "not known yet" if weeks is None else f"{weeks:,.1f}"


def _figure(name: str, now: float, then: float, decimals: int) -> Figure:
    # rounded before they are compared, so that the change is the one between the figures shown
    now, then = round(now, decimals), round(then, decimals)
    difference = f"{abs(then - now):,.{decimals}f}"
    way = "no change" if now == then else f"{difference} {'more' if then > now else 'fewer'}"
    return Figure(name, f"{now:,.{decimals}f}", f"{then:,.{decimals}f}", way)


def tried(preview: PolicyPreview, unit: str) -> str:
    """Which value was tried in place of which."""
    then = preview.after_value
    tried_value = "the published value" if then is None else _value(then, unit)
    return f"Tried: {tried_value} in place of {_value(preview.before_value, unit)}"


def _value(value: float | str | None, unit: str) -> str:
    if value is None:
        return "no value"
    return f"{value if isinstance(value, str) else words.number(value)} {shown_unit(unit)}".rstrip()


def moved(preview: PolicyPreview) -> str:
    """How many dates move, and which of them are listed."""
    if not preview.moved:
        return "No date to test by would move."
    shown = len(preview.moves)
    which = f" The {shown} that move most:" if shown < preview.moved else ""
    return f"{words.count(preview.moved, 'date')} to test by would move.{which}"


def by_month(preview: PolicyPreview) -> tuple[tuple[str, int, int], ...]:
    """(month, now, then): windows that end in each month."""
    then = dict(preview.after.by_month)
    return tuple((words.month(month), now, then.get(month, 0)) for month, now in preview.before.by_month)


def _days(move: Move) -> Cell:
    way = "later" if move.days > 0 else "sooner"
    return Cell(f"{abs(move.days):,} {way}", float(-abs(move.days)), to_right=True)


COLUMNS: tuple[Column[Move], ...] = (
    Column("Outlet", lambda move: cells.text(move.ref), "WW/W/W00/WHB1", stretches=True),
    Column("Test by, now", lambda move: cells.on_day(move.before), "25 Nov 2026"),
    Column("Test by, then", lambda move: cells.on_day(move.after), "25 Nov 2026"),
    Column("Moves, days", _days, "1,000 sooner"),
)


class MovesModel(TableModel[Move]):
    """The valves whose dates move most, furthest first."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda move: 0)
