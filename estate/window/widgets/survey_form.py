"""Fields of a survey: the place, its supplies, what is wanted and the valve in mind."""

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QVBoxLayout, QWidget

from estate.domain.places import Use, UserGroup
from estate.domain.suitability.given import Given
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import SchemeClass
from estate.window import words
from estate.window.models.visit_fields import Value
from estate.window.sizes import grown
from estate.window.translating import said, tr
from estate.window.widgets.entry import AnswerField, HintedField, NumberField, WheelGuard
from estate.window.widgets.text import label


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a survey: its name in `Survey`, dotted inside a supply or the model."""

    path: str
    words: str
    unit: str


_NUMBER = 84
"""Width of a number, pixels for text at 100 %."""
_SIDES = (("hot", said("Hot")), ("cold", said("Cold")))
_SUPPLIES = (
    ("temperature_c", said("Temperature"), "°C"),
    ("static_bar", said("Pressure at rest"), "bar"),
    ("flow_bar", said("Pressure under flow"), "bar"),
)
WANTED = (
    Figure("set_c", said("Mixed temperature"), "°C"),
    Figure("wanted_l_min", said("Flow at the outlet"), "l/min"),
    Figure("pipe_m", said("Blended pipe"), "m"),
)
OF_MODEL = (
    Figure("model.min_differential_k", said("Least difference hot to mixed"), "K"),
    Figure("model.max_pressure_ratio", said("Largest ratio of pressures"), "to 1"),
    Figure("model.max_pressure_difference_bar", said("Largest difference of pressures"), "bar"),
    Figure("model.least_flow_l_min", said("Least flow"), "l/min"),
    Figure("model.flow_at_1_bar_l_min", said("Flow at 1 bar on both sides"), "l/min"),
    Figure("model.max_static_bar", said("Highest pressure at rest"), "bar"),
    Figure("model.max_hot_c", said("Hottest supply"), "°C"),
)


class SurveyForm(QWidget):
    """Takes a survey; a blank field is not known.

    Attributes:
        edited: the person changed something.
        numbers: the fields by path, such as ``hot.flow_bar``.
    """

    edited = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "page")
        self._guard = WheelGuard(self)
        self._named: dict[str, str] = {}
        self.numbers: dict[str, NumberField] = {}
        self.use, self.users, self.scheme_class = QComboBox(), QComboBox(), QComboBox()
        self._choices()
        self.risk_assessed = AnswerField(tr("Risk assessment of the class on record"))
        self.risk_assessed.installEventFilter(self._guard)
        self.risk_assessed.edited.connect(self.edited)
        self.designations = HintedField()
        self.designations.setAccessibleName(tr("Designations of the valve"))
        self.designations.setPlaceholderText(tr("such as HP-W, LP-W"))
        self.designations.textEdited.connect(self.edited)
        self.taken_from = label("", "small", wraps=True)
        self.taken_from.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 10, 0)
        self._column.setSpacing(8)
        self._lay_out()

    def _choices(self) -> None:
        lists: tuple[tuple[QComboBox, str, str, tuple[Use | UserGroup | SchemeClass, ...]], ...] = (
            (self.use, tr("Use"), tr("choose…"), tuple(Use)),
            (self.users, tr("Users"), tr("choose…"), tuple(UserGroup)),
            (self.scheme_class, tr("Class of the valve"), tr("none in mind"), tuple(SchemeClass)),
        )
        for box, name, nothing, values in lists:
            box.setAccessibleName(name)
            box.installEventFilter(self._guard)
            box.addItem(nothing, None)
            for value in values:
                kind = isinstance(value, SchemeClass)
                told = tr("Type {value}", value=value) if kind else words.sentence(tr(value.value))
                box.addItem(told, value.value)
            box.currentIndexChanged.connect(lambda place: self.edited.emit())

    def _lay_out(self) -> None:
        self._section(
            tr("Outlet and users"),
            (
                (tr("Use"), self.use),
                (tr("Users"), self.users),
                (tr("Risk assessment on record"), self.risk_assessed),
            ),
        )
        self._column.addWidget(label(tr("Supplies at the valve"), "heading"))
        self._column.addLayout(self._supplies())
        self._column.addWidget(self.taken_from)
        self._section(tr("Wanted"), tuple(self._figures(WANTED)))
        self._section(
            tr("The valve"), ((tr("Class"), self.scheme_class), (tr("Designations"), self.designations))
        )
        self._section(tr("The model's figures, from its maker"), tuple(self._figures(OF_MODEL)))
        self._column.addStretch(1)

    def _section(self, heading: str, fields: tuple[tuple[str, QWidget], ...]) -> None:
        self._column.addWidget(label(heading, "heading"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for row, (name, field) in enumerate(fields):
            grid.addWidget(label(name, wraps=True), row, 0)
            if isinstance(field, NumberField):
                field.setFixedWidth(grown(_NUMBER))
            grid.addWidget(field, row, 1)
        self._column.addLayout(grid)

    def _figures(self, figures: tuple[Figure, ...]) -> Iterator[tuple[str, QWidget]]:
        for figure in figures:
            name = f"{tr(figure.words)}, {tr(figure.unit)}"
            yield name, self._number(figure.path, name)

    def _supplies(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for column, (side, heading) in enumerate(_SIDES, start=1):
            head = label(tr(heading), "muted")
            head.setAlignment(Qt.AlignmentFlag.AlignRight)
            grid.addWidget(head, 0, column)
            for row, (ending, measured, unit) in enumerate(_SUPPLIES, start=1):
                name = f"{tr(heading)}: {tr(measured).lower()}, {unit}"
                field = self._number(f"{side}.{ending}", name)
                field.setFixedWidth(grown(_NUMBER))
                grid.addWidget(field, row, column)
        for row, (_, measured, unit) in enumerate(_SUPPLIES, start=1):
            grid.addWidget(label(f"{tr(measured)}, {unit}"), row, 0)
        return grid

    def _number(self, path: str, name: str) -> NumberField:
        field = NumberField(name)
        field.edited.connect(self.edited)
        self.numbers[path], self._named[path] = field, name
        return field

    def put(self, survey: Survey, taken_from: tuple[str, ...]) -> None:
        """Show what is known, and of which day."""
        self.blockSignals(True)
        for path, field in self.numbers.items():
            field.put(_held(survey, path))
        self.use.setCurrentIndex(self.use.findData(survey.use.value))
        self.users.setCurrentIndex(self.users.findData(survey.users.value))
        kind = None if survey.scheme_class is None else survey.scheme_class.value
        self.scheme_class.setCurrentIndex(0 if kind is None else self.scheme_class.findData(kind))
        self.designations.setText(", ".join(survey.designations))
        self.risk_assessed.put(survey.risk_assessed)
        known = "; ".join(map(tr, taken_from)) or tr("no visit or survey on record measured the supplies")
        self.taken_from.setText(
            tr(
                "From the register: {known}; the rest as kept with outlet and valve. What you "
                "change here is not written.",
                known=known,
            )
        )
        self.taken_from.show()
        self.blockSignals(False)

    @property
    def unreadable(self) -> tuple[str, ...]:
        """Names of the fields whose content is no number."""
        return tuple(self._named[path] for path, field in self.numbers.items() if not field.readable)

    def given(self) -> Given:
        """What stands in the fields; what is blank is not known."""
        kind, use, users = (each.currentData() for each in (self.scheme_class, self.use, self.users))
        answer = self.risk_assessed.value()
        typed = (each.strip() for each in self.designations.text().split(","))
        return Given(
            use=None if use is None else Use(use),
            users=None if users is None else UserGroup(users),
            hot=Supply(*(self._value(f"hot.{ending}") for ending, _, _ in _SUPPLIES)),
            cold=Supply(*(self._value(f"cold.{ending}") for ending, _, _ in _SUPPLIES)),
            set_c=self._value("set_c"),
            scheme_class=None if kind is None else SchemeClass(kind),
            designations=tuple(each for each in typed if each),
            wanted_l_min=self._value("wanted_l_min"),
            pipe_m=self._value("pipe_m"),
            model=ModelFigures(*(self._value(figure.path) for figure in OF_MODEL)),
            risk_assessed=answer if isinstance(answer, bool) else None,
            alone=True,
        )

    def _value(self, path: str) -> float | None:
        value = self.numbers[path].value()
        return None if value is None else float(value)


def _held(survey: Survey, path: str) -> Value:
    held: object = survey
    for name in path.split("."):
        held = getattr(held, name)
    return None if held is None else float(str(held))
