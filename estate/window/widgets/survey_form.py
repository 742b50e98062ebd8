"""Fields of a survey: the place, its supplies, what is wanted and the valve in mind."""

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QVBoxLayout, QWidget

from estate.domain.places import Use, UserGroup
from estate.domain.suitability.given import Given
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import SchemeClass
from estate.window import words
from estate.window.models.visit_fields import Value
from estate.window.widgets.entry import AnswerField, NumberField, WheelGuard
from estate.window.widgets.text import label


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a survey: its name in `Survey`, dotted inside a supply or the model."""

    path: str
    words: str
    unit: str


_SUPPLIES = (
    ("temperature_c", "Temperature", "°C"),
    ("static_bar", "Pressure at rest", "bar"),
    ("flow_bar", "Pressure under flow", "bar"),
)
WANTED = (
    Figure("set_c", "Mixed temperature", "°C"),
    Figure("wanted_l_min", "Flow at the outlet", "l/min"),
    Figure("pipe_m", "Blended pipe", "m"),
)
OF_MODEL = (
    Figure("model.min_differential_k", "Least hot-to-mix difference", "K"),
    Figure("model.max_pressure_ratio", "Greatest ratio of pressures", "to 1"),
    Figure("model.max_pressure_difference_bar", "Greatest difference of pressures", "bar"),
    Figure("model.least_flow_l_min", "Least flow", "l/min"),
    Figure("model.flow_at_1_bar_l_min", "Flow at 1 bar on both sides", "l/min"),
    Figure("model.max_static_bar", "Greatest pressure at rest", "bar"),
    Figure("model.max_hot_c", "Hottest supply", "°C"),
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
        self.risk_assessed = AnswerField("Risk assessment of the class on record")
        self.risk_assessed.installEventFilter(self._guard)
        self.risk_assessed.edited.connect(self.edited)
        self.designations = QLineEdit()
        self.designations.setAccessibleName("Designations of the valve")
        self.designations.setPlaceholderText("such as HP-W, LP-W")
        self.designations.textEdited.connect(self.edited)
        self.taken_from = label("", "small", wraps=True)
        self.taken_from.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 10, 0)
        self._column.setSpacing(8)
        self._lay_out()

    def _choices(self) -> None:
        lists: tuple[tuple[QComboBox, str, str, tuple[Use | UserGroup | SchemeClass, ...]], ...] = (
            (self.use, "Use", "choose…", tuple(Use)),
            (self.users, "Users", "choose…", tuple(UserGroup)),
            (self.scheme_class, "Class of the valve", "none in mind", tuple(SchemeClass)),
        )
        for box, name, nothing, values in lists:
            box.setAccessibleName(name)
            box.installEventFilter(self._guard)
            box.addItem(nothing, None)
            for value in values:
                said = f"Type {value}" if isinstance(value, SchemeClass) else words.sentence(value.value)
                box.addItem(said, value.value)
            box.currentIndexChanged.connect(lambda place: self.edited.emit())

    def _lay_out(self) -> None:
        self._section(
            "Outlet and users",
            (("Use", self.use), ("Users", self.users), ("Risk assessment on record", self.risk_assessed)),
        )
        self._column.addWidget(label("Supplies at the valve", "heading"))
        self._column.addLayout(self._supplies())
        self._column.addWidget(self.taken_from)
        self._section("Wanted", tuple(self._figures(WANTED)))
        self._section("The valve", (("Class", self.scheme_class), ("Designations", self.designations)))
        self._section("The model's figures, from its maker", tuple(self._figures(OF_MODEL)))
        self._column.addStretch(1)

    def _section(self, heading: str, fields: tuple[tuple[str, QWidget], ...]) -> None:
        self._column.addWidget(label(heading, "heading"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for row, (name, field) in enumerate(fields):
            grid.addWidget(label(name, wraps=True), row, 0)
            field.setFixedWidth(150 if not isinstance(field, NumberField) else 84)
            grid.addWidget(field, row, 1, Qt.AlignmentFlag.AlignRight)
        self._column.addLayout(grid)

    def _figures(self, figures: tuple[Figure, ...]) -> Iterator[tuple[str, QWidget]]:
        for figure in figures:
            name = f"{figure.words}, {figure.unit}"
            yield name, self._number(figure.path, name)

    def _supplies(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for column, side in enumerate(("hot", "cold"), start=1):
            head = label(words.sentence(side), "muted")
            head.setAlignment(Qt.AlignmentFlag.AlignRight)
            grid.addWidget(head, 0, column)
            for row, (ending, said, unit) in enumerate(_SUPPLIES, start=1):
                field = self._number(f"{side}.{ending}", f"{words.sentence(side)}: {said.lower()}, {unit}")
                field.setFixedWidth(84)
                grid.addWidget(field, row, column)
        for row, (_, said, unit) in enumerate(_SUPPLIES, start=1):
            grid.addWidget(label(f"{said}, {unit}"), row, 0)
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
        said = "; ".join(taken_from) or "no visit or survey on record measured the supplies"
        self.taken_from.setText(
            f"From the register: {said}; the rest as kept with outlet and valve. "
            "What you change here is not written."
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
