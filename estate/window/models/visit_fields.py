"""The fields of a visit in the order in which the work is done, and how typed words become readings."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields

from estate.domain.visits import Isolation, Readings
from estate.window.translating import said, tr

Value = float | bool | None
_NUMBER = re.compile(r"[+-]?\d{1,6}([.,]\d{1,4})?")


@dataclass(frozen=True, slots=True)
class VisitField:
    """One field.

    Attributes:
        path: name in `Readings`, dotted for an isolation, such as ``cold_isolated.max_c``.
        unit: as shown; empty for a yes-or-no answer.
        hint: how it is measured, in a few words.
    """

    path: str
    words: str
    unit: str = ""
    hint: str = ""

    @property
    def told(self) -> str:
        """Its words in the language of the window."""
        return tr(self.words)

    @property
    def is_number(self) -> bool:
        """Whether a number is typed; otherwise yes or no is chosen."""
        return bool(self.unit)


@dataclass(frozen=True, slots=True)
class Section:
    """Fields that belong to one step of the work.

    Attributes:
        before_adjusting: wanted before a valve that changed is adjusted.
    """

    heading: str
    fields: tuple[VisitField, ...]
    note: str = ""
    before_adjusting: bool = False


def _isolation(name: str) -> tuple[VisitField, ...]:
    return (
        VisitField(f"{name}.shut_s", said("Time to shut"), "s"),
        VisitField(
            f"{name}.residual_ml_min", said("Still flowing"), "ml/min", said("caught in a measuring vessel")
        ),
        VisitField(f"{name}.residual_c", said("Its temperature"), "°C"),
        VisitField(f"{name}.max_c", said("Highest mixed temperature"), "°C"),
        VisitField(f"{name}.stabilised_c", said("Final stabilised temperature"), "°C"),
        VisitField(
            f"{name}.said_to_shut",
            said("Seen to shut"),
            "",
            said("the word alone, where nothing was measured"),
        ),
    )


SECTIONS: tuple[Section, ...] = (
    Section(
        said("Supplies"),
        (
            VisitField("hot_c", said("Hot supply"), "°C"),
            VisitField("cold_c", said("Cold supply"), "°C"),
            VisitField("hot_static_bar", said("Hot pressure, static"), "bar"),
            VisitField("cold_static_bar", said("Cold pressure, static"), "bar"),
            VisitField("hot_flow_bar", said("Hot pressure, flowing"), "bar"),
            VisitField("cold_flow_bar", said("Cold pressure, flowing"), "bar"),
        ),
    ),
    Section(
        said("Mixed water as found"),
        (
            VisitField("found_c", said("Mixed, largest draw-off"), "°C", said("after it has settled")),
            VisitField("flow_l_min", said("Flow, largest draw-off"), "l/min"),
            VisitField("small_draw_c", said("Mixed, smaller draw-off"), "°C"),
            VisitField("small_draw_l_min", said("Flow, smaller draw-off"), "l/min"),
        ),
    ),
    Section(
        said("Cold supply isolated"),
        _isolation("cold_isolated"),
        said("Keep skin out of the stream. Wait, then judge."),
    ),
    Section(said("Hot supply isolated"), _isolation("hot_isolated")),
    Section(
        said("Before any adjustment, in this order"),
        (
            VisitField("strainers_cleaned", said("Strainers clean or cleaned")),
            VisitField("check_valves_good", said("Check valves in good order")),
            VisitField("isolating_valves_open", said("Isolating valves fully open")),
        ),
        before_adjusting=True,
    ),
    Section(
        said("As left"),
        (
            VisitField("adjusted", said("Temperature adjuster turned")),
            VisitField("left_c", said("Mixed, largest draw-off"), "°C"),
            VisitField("cap_refitted", said("Cap refitted")),
        ),
    ),
)
FIELDS: tuple[VisitField, ...] = tuple(field for section in SECTIONS for field in section.fields)


def section_of(field: VisitField) -> str:
    """The heading that a field stands under."""
    return tr(next(each.heading for each in SECTIONS if field in each.fields))


def parse_number(text: str) -> float | None:
    """A typed number, with a point or a comma; blank is not measured.

    Raises:
        ValueError: it is not a number.
    """
    typed = text.strip().replace("\u2212", "-")
    if not typed:
        return None
    if not _NUMBER.fullmatch(typed):
        raise ValueError(text)
    return float(typed.replace(",", "."))


def value_of(readings: Readings, path: str) -> Value:
    """The value of a field of readings."""
    held: object = readings
    for name in path.split("."):
        held = getattr(held, name)
    return held if isinstance(held, bool | float) or held is None else float(str(held))


def readings_of(values: Mapping[str, Value]) -> Readings:
    """Readings from values by path; what is missing stays not measured."""
    parts: dict[str, dict[str, Value]] = {"": {}}
    for path, value in values.items():
        group, _, name = path.rpartition(".")
        parts.setdefault(group, {})[name] = value
    isolations = {
        each.name: Isolation(**parts.get(each.name, {}))  # type: ignore[arg-type]  # the table's paths are tested
        for each in fields(Readings)
        if each.name.endswith("_isolated")
    }
    return Readings(**parts[""], **isolations)  # type: ignore[arg-type]  # the table's paths are tested


def shown(value: Value, unit: str = "") -> str:
    """A value as shown beside its field."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    return f"{value:.1f}" if unit == "°C" else f"{value:g}"
