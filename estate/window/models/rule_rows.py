"""Columns of the values of a rule set."""

from estate.domain.rules.catalogue import describe
from estate.domain.rules.values import RuleValue
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

UNITS = {
    "degC": "°C",
    "K": "K",
    "ml/min": "ml/min",
    "week": "weeks",
    "month": "months",
    "year": "years",
    "ratio": ": 1",
}


def shown_unit(unit: str) -> str:
    """A unit as people write it."""
    return UNITS.get(unit, unit)


def _value(value: RuleValue) -> Cell:
    if isinstance(value.value, str):
        return Cell(value.value, value.value, to_right=True)
    return cells.figure(value.number)


def _words(value: RuleValue) -> Cell:
    return cells.text(words.sentence(describe(value.key)), f"{value.key}\n{value.note}".strip())


def _standing(value: RuleValue) -> Cell:
    if value.override is not None:
        made = value.override
        why = f"{made.who}, {words.moment(made.at)}: {made.why}"
        return Cell("site's own", 0.0, Mark.TARGET, tip=why)
    if value.verified:
        return Cell("verified", 2.0, Mark.TICK, tip="Seen in the source's own text")
    return Cell("not verified", 1.0, Mark.HALF, tip="Not checked in the source itself")


def heard(value: RuleValue) -> str:
    """What a value is found by."""
    said = (value.key, describe(value.key), value.fact, value.shown_source, value.note, _standing(value).text)
    return " ".join(said).casefold()


COLUMNS: tuple[Column[RuleValue], ...] = (
    Column("Value for", _words, "Change of mixed temperature that counts as"),
    Column("Value", _value, "41.5 "),
    Column("Unit", lambda value: cells.text(shown_unit(value.unit)), "ml/min"),
    Column("Standing", _standing, "not verified", marked=True),
    Column("Fact", lambda value: cells.text(value.fact), "D08-100"),
    Column(
        "Source",
        lambda value: cells.text(str(value.source), f"{value.shown_source}\n{value.note}".strip()),
        "a document",
        stretches=True,
    ),
    Column("In force from", lambda value: cells.on_day(value.effective), "25 Nov 2026"),
)


class RulesModel(TableModel[RuleValue]):
    """The values of a rule set, by key."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda value: 0)
