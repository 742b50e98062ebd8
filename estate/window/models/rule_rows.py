"""Columns of the values of a rule set."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from estate.domain.rules.catalogue import describe
from estate.domain.rules.listing import days
from estate.domain.rules.values import FAHRENHEIT, TO_BE_FILLED_IN, RuleValue
from estate.domain.temperature import Scale, to_fahrenheit, to_fahrenheit_steps
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr

UNITS = {
    "degC": "°C",
    "degF": "°F",
    "day": said("days"),
    "person": "",
    "K": "K",
    "ml/min": "ml/min",
    "week": said("weeks"),
    "month": said("months"),
    "year": said("years"),
    "ratio": ": 1",
    "share": said("of 1"),
}


_ON_SCALE: Mapping[str, Callable[[float], float]] = MappingProxyType(
    {"degC": to_fahrenheit, "K": to_fahrenheit_steps}
)


def shown_unit(unit: str) -> str:
    """A unit as people write it."""
    return tr(UNITS.get(unit, unit))


def _value(value: RuleValue, scale: Scale) -> Cell:
    if value.blank:
        return Cell(tr("blank"), float("inf"), to_right=True, tip=TO_BE_FILLED_IN)
    if value.unit == FAHRENHEIT and value.override is None:
        tip = tr(
            "{figure} °F as published; judged as {number:.6g} °C", figure=value.figure, number=value.number
        )
        return Cell(value.figure, value.number, to_right=True, tip=tip)
    if scale is Scale.FAHRENHEIT and value.unit in _ON_SCALE:
        tip = tr("{figure} {shown_unit} as published", figure=value.figure, shown_unit=shown_unit(value.unit))
        return Cell(f"{_ON_SCALE[value.unit](value.number):.6g}", value.number, to_right=True, tip=tip)
    if isinstance(value.value, str):
        return Cell(tr(value.value), value.value, to_right=True)
    return cells.figure(value.number)


def _unit(value: RuleValue, scale: Scale) -> Cell:
    converted = scale is Scale.FAHRENHEIT and value.unit in _ON_SCALE and not value.blank
    return cells.text(scale.sign if converted else shown_unit(value.unit))


def _words(value: RuleValue) -> Cell:
    return cells.text(words.sentence(tr(describe(value.key))), f"{value.key}\n{value.note}".strip())


def _standing(value: RuleValue) -> Cell:
    if value.blank:
        return Cell(tr("to be filled in"), -1.0, Mark.RING, tip=tr("Nothing is judged by it until then"))
    if value.override is not None:
        made = value.override
        why = f"{made.who}, {words.moment(made.at)}: {made.why}"
        return Cell(tr("site's own"), 0.0, Mark.TARGET, tip=why)
    if value.verified:
        return Cell(tr("verified"), 2.0, Mark.TICK, tip=tr("Seen in the source's own text"))
    return Cell(tr("not verified"), 1.0, Mark.HALF, tip=tr("Not checked in the source itself"))


def _applies(value: RuleValue) -> Cell:
    return Cell(days(value) or words.NOTHING, float(value.effective.toordinal()), tip=days(value))


def heard(value: RuleValue) -> str:
    """What a value is found by."""
    said = (
        value.key,
        tr(describe(value.key)),
        value.fact,
        value.shown_source,
        value.note,
        _standing(value).text,
    )
    return " ".join(said).casefold()


def _columns(scale: Scale) -> tuple[Column[RuleValue], ...]:
    return (
        Column(said("Value for"), _words, "Change of mixed temperature that counts as", id="value-for"),
        Column(said("Value"), lambda value: _value(value, scale), "118.888 ", id="value"),
        Column(said("Unit"), lambda value: _unit(value, scale), "ml/min", groups=True, id="unit"),
        Column(said("Standing"), _standing, "not verified", marked=True, id="standing"),
        Column(said("Fact"), lambda value: cells.text(value.fact), "D08-100", id="fact"),
        Column(
            said("Source"),
            lambda value: cells.text(
                tr(str(value.source)), f"{tr(value.shown_source)}\n{value.note}".strip()
            ),
            "a document",
            stretches=True,
            id="source",
        ),
        Column(said("Applies"), _applies, "fitted from 25 Nov 2026", id="applies"),
    )


class RulesModel(TableModel[RuleValue]):
    """The values of a rule set, by key."""

    def __init__(self) -> None:
        super().__init__(_columns(Scale.CELSIUS), lambda value: 0)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale; what was published in °F stays so."""
        self.show(_columns(scale))
