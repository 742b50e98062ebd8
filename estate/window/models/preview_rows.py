"""What a change of a rule value would do, as figures, rows and words."""

from dataclasses import dataclass

from estate.domain.preview import Move, PolicyPreview
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.rule_rows import shown_unit
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count


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
        _figure(tr("Visits a year"), before.visits_a_year, after.visits_a_year, 0),
        _above(
            tr("Valve-weeks above the ceiling a year"), before.weeks_above_a_year, after.weeks_above_a_year
        ),
    )


def _above(name: str, now: float | None, then: float | None) -> Figure:
    if now is None or then is None:
        return Figure(name, _known(now), _known(then), words.NOTHING)
    return _figure(name, now, then, 1)


def _known(weeks: float | None) -> str:
    return tr("not known yet") if weeks is None else f"{weeks:,.1f}"


def _figure(name: str, now: float, then: float, decimals: int) -> Figure:
    # rounded before they are compared, so that the change is the one between the figures shown
    now, then = round(now, decimals), round(then, decimals)
    difference = f"{abs(then - now):,.{decimals}f}"
    way = tr("no change") if now == then else f"{difference} {(tr('more') if then > now else tr('fewer'))}"
    return Figure(name, f"{now:,.{decimals}f}", f"{then:,.{decimals}f}", way)


def tried(preview: PolicyPreview, unit: str) -> str:
    """Which value was tried in place of which."""
    then = preview.after_value
    tried_value = tr("the published value") if then is None else _value(then, unit)
    return tr(
        "Tried: {tried_value} in place of {value}",
        tried_value=tried_value,
        value=_value(preview.before_value, unit),
    )


def _value(value: float | str | None, unit: str) -> str:
    if value is None:
        return tr("no value")
    return f"{value if isinstance(value, str) else words.number(value)} {shown_unit(unit)}".rstrip()


def moved(preview: PolicyPreview) -> str:
    """How many dates move, and which of them are listed."""
    if not preview.moved:
        return tr("No date to test by would move.")
    shown = len(preview.moves)
    which = tr("The {shown} that move most:", shown=shown) if shown < preview.moved else ""
    how_many = tr_count(
        preview.moved, "{n:,} date to test by would move.", "{n:,} dates to test by would move."
    )
    return words.together(how_many, which)


def by_month(preview: PolicyPreview) -> tuple[tuple[str, int, int], ...]:
    """(month, now, then): windows that end in each month."""
    then = dict(preview.after.by_month)
    return tuple((words.month(month), now, then.get(month, 0)) for month, now in preview.before.by_month)


def _days(move: Move) -> Cell:
    way = tr("later") if move.days > 0 else tr("sooner")
    return Cell(f"{abs(move.days):,} {way}", float(-abs(move.days)), to_right=True)


COLUMNS: tuple[Column[Move], ...] = (
    Column(said("Outlet"), lambda move: cells.text(move.ref), "WW/W/W00/WHB1", stretches=True, id="outlet"),
    Column(said("Test by, now"), lambda move: cells.on_day(move.before), "25 Nov 2026", id="test-by-now"),
    Column(said("Test by, then"), lambda move: cells.on_day(move.after), "25 Nov 2026", id="test-by-then"),
    Column(said("Moves, days"), _days, "1,000 sooner", id="moves-days"),
)


class MovesModel(TableModel[Move]):
    """The valves whose dates move most, furthest first."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda move: 0)
