"""The form of a visit: fields in working order, last and reference values beside each."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from itertools import pairwise

from PySide6.QtCore import QDate, QLocale, Qt, Signal
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QDateEdit,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from estate.domain.field_limits import FieldLimit
from estate.domain.instruments import Instrument
from estate.domain.steps import Steps
from estate.domain.visits import Visit, VisitDraft, VisitKind
from estate.window import words
from estate.window.models.visit_fields import (
    FIELDS,
    SECTIONS,
    Section,
    VisitField,
    readings_of,
    section_of,
    shown,
    value_of,
)
from estate.window.widgets.caught import CaughtField
from estate.window.widgets.entry import AnswerField, NumberField, WheelGuard, WordsField
from estate.window.widgets.steps_form import StepsForm
from estate.window.widgets.text import label


@dataclass(frozen=True)
class Background:
    """What the form offers and shows beside its fields.

    Attributes:
        last: the visit before; None if there is none.
        reference: the commissioning or service that later tests are held against.
        limits: what readings are held against, by field.
    """

    people: tuple[str, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    last: Visit | None = None
    reference: Visit | None = None
    limits: Mapping[str, FieldLimit] = field(default_factory=dict)


class VisitForm(QScrollArea):
    """Takes a visit.

    Attributes:
        edited: the person changed something.
        steps: what is seen step by step, where the kind of visit asks for it.
        caught: what was caught in a vessel, by the supply isolated.
    """

    edited = Signal()

    def __init__(self, background: Background, today: date, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._background = background
        self.fields: dict[str, NumberField | AnswerField] = {}
        self._guard = WheelGuard(self)
        self._instrument_words = ""
        self.steps = StepsForm()
        self.caught = {supply: CaughtField(supply) for supply in ("cold", "hot")}
        self.steps.edited.connect(self.edited)
        self._make_head(today)
        held = QWidget()
        held.setProperty("kind", "page")
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnMinimumWidth(1, 130)
        self._fill()
        column = QVBoxLayout(held)
        column.setContentsMargins(2, 2, 14, 8)
        column.addLayout(self._grid)
        column.addStretch(1)
        self.setWidget(held)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus)

    def _make_head(self, today: date) -> None:
        self.kind = QComboBox()
        self.kind.setAccessibleName("Kind of visit")
        for kind in VisitKind:
            self.kind.addItem(words.sentence(kind.value), kind)
        self.on = QDateEdit(QDate(today.year, today.month, today.day))
        self.on.setLocale(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
        self.on.setDisplayFormat("d MMM yyyy")
        self.on.setCalendarPopup(True)
        self.on.setAccessibleName("Date of the visit")
        self.person = WordsField("Person who made the visit", self._background.people)
        self.instrument = QComboBox()
        self.instrument.setAccessibleName("Instrument")
        self.instrument.addItem("not recorded", None)
        for each in self._background.instruments:
            self.instrument.addItem(_instrument_words(each, today), each.id)
        self.remarks = QLineEdit()
        self.remarks.setAccessibleName("Remarks")
        self.kind.currentIndexChanged.connect(self._on_kind)
        self.on.dateChanged.connect(self._on_edited)
        self.instrument.currentIndexChanged.connect(self._on_edited)
        for widget in (self.kind, self.on, self.person, self.instrument):
            widget.installEventFilter(self._guard)

    def _fill(self) -> None:
        row = self._fill_head()
        for section in SECTIONS:
            row = self._fill_section(section, row)
        self._grid.addWidget(label("Remarks", "heading"), row, 0, 1, 5)
        self._grid.addWidget(self.remarks, row + 1, 0, 1, 5)

    def _fill_head(self) -> int:
        named = (
            ("Kind of visit", self.kind),
            ("Date", self.on),
            ("Person", self.person),
            ("Instrument", self.instrument),
        )
        for row, (name, widget) in enumerate(named):
            self._grid.addWidget(label(name), row, 0)
            self._grid.addWidget(widget, row, 1, 1, 4)
        row = len(named) + 1
        self._grid.addWidget(self.steps, row - 1, 0, 1, 5)
        for place, visit in ((3, self._background.last), (4, self._background.reference)):
            head = label(_column_words(visit, "Last" if place == 3 else "Reference"), "small")
            head.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom)
            self._grid.addWidget(head, row, place)
        return row

    def _fill_section(self, section: Section, row: int) -> int:
        if row > 5:
            self._grid.setRowMinimumHeight(row, 28)
        heading = label(section.heading, "heading")
        self._grid.addWidget(heading, row, 0, 1, 3, Qt.AlignmentFlag.AlignBottom)
        row += 1
        if section.before_adjusting:
            self._asked_first = label(_CHANGED, "caution")
            self._asked_first.hide()
            self._grid.addWidget(self._asked_first, row, 0, 1, 5)
            row += 1
        if section.note:
            self._grid.addWidget(label(section.note, "caution"), row, 0, 1, 5)
            row += 1
        for each in section.fields:
            self._fill_field(each, row)
            row += 1
            supply, _, name = each.path.partition("_isolated.")
            if name == "residual_ml_min":
                self._fill_caught(supply, row)
                row += 1
        return row

    def _fill_caught(self, supply: str, row: int) -> None:
        flow, caught = self.fields[f"{supply}_isolated.residual_ml_min"], self.caught[supply]
        caught.flowed.connect(flow.put)
        caught.edited.connect(self.edited)
        self._grid.addWidget(label("  or caught in a vessel", "muted"), row, 0)
        self._grid.addWidget(caught, row, 1, 1, 2)

    def _fill_field(self, field: VisitField, row: int) -> None:
        name = f"{section_of(field)}: {field.words}{', ' + field.unit if field.unit else ''}"
        widget = NumberField(name) if field.is_number else AnswerField(name)
        if field.hint:
            widget.setToolTip(field.hint)
        widget.edited.connect(self.edited)
        widget.installEventFilter(self._guard)
        self.fields[field.path] = widget
        self._grid.addWidget(label(field.words), row, 0)
        self._grid.addWidget(widget, row, 1)
        self._grid.addWidget(self._unit(field), row, 2)
        for place, visit in ((3, self._background.last), (4, self._background.reference)):
            before = label(shown(value_of(visit.readings, field.path), field.unit) if visit else "", "muted")
            before.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(before, row, place)

    def _unit(self, field: VisitField) -> QLabel:
        limit = self._background.limits.get(field.path)
        if limit is None:
            return label(field.unit, "muted")
        beside = label(f"{field.unit}  {limit.words}", "muted")
        beside.setToolTip("\n".join(limit.sources))
        return beside

    def ask_first(self, asked: bool) -> None:
        """Say whether the checks before an adjustment are wanted, because the valve changed."""
        self._asked_first.setVisible(asked)

    def put(self, draft: VisitDraft) -> None:
        """Show a visit in the fields."""
        self.kind.setCurrentIndex(self.kind.findData(draft.kind))
        self.on.setDate(QDate(draft.on.year, draft.on.month, draft.on.day))
        self.person.setCurrentText(draft.person)
        self._instrument_words = draft.instrument_words
        if draft.instrument_words:
            self.instrument.setItemText(0, f"as written: {draft.instrument_words}")
        self.instrument.setCurrentIndex(max(0, self.instrument.findData(draft.instrument_id)))
        self.remarks.setText(draft.remarks)
        for path, widget in self.fields.items():
            widget.put(value_of(draft.readings, path))
        self._show_kind(draft.kind)
        self.steps.put(draft.steps)
        for caught in self.caught.values():
            caught.put(draft.steps)

    def draft(self, valve_id: int, outlet_id: int) -> VisitDraft:
        """The visit as typed so far; what can't be read is not measured."""
        day = self.on.date()
        return VisitDraft(
            valve_id=valve_id,
            outlet_id=outlet_id,
            kind=VisitKind(self.kind.currentData()),
            on=date(day.year(), day.month(), day.day()),
            readings=readings_of({path: widget.value() for path, widget in self.fields.items()}),
            person=self.person.currentText().strip(),
            instrument_id=self.instrument.currentData(),
            instrument_words=self._instrument_words if self.instrument.currentData() is None else "",
            remarks=self.remarks.text().strip(),
            steps=self._steps(),
        )

    def _steps(self) -> Steps:
        seen = self.steps.steps()
        caught = [each for field in self.caught.values() for each in field.seen()]
        return Steps((*seen.seen, *caught), seen.parts)

    def unreadable(self) -> list[str]:
        """Fields in which something stands that is no number, in words."""
        wrong = [field for field in FIELDS if not self.fields[field.path].readable]
        caught = [supply for supply, field in self.caught.items() if not field.readable]
        return [
            *(f"{section_of(each)}, {each.words.lower()}" for each in wrong),
            *(f"{supply} isolated, caught in a vessel: millilitres and seconds" for supply in caught),
        ]

    def _show_kind(self, kind: VisitKind) -> None:
        self.steps.show_kind(kind)
        order = list(self._in_order())
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _in_order(self) -> Iterator[QWidget]:
        """Every field as the work is done."""
        yield from (self.kind, self.on, self.person, self.instrument)
        yield from self.steps.in_order()
        for path, entry in self.fields.items():
            yield entry
            supply, _, name = path.partition("_isolated.")
            if name == "residual_ml_min":
                yield from (self.caught[supply].volume_ml, self.caught[supply].seconds)
        yield self.remarks

    def _on_kind(self) -> None:
        self._show_kind(VisitKind(self.kind.currentData()))
        self.edited.emit()

    def _on_edited(self) -> None:
        self.edited.emit()

    def _on_focus(self, before: QWidget | None, now: QWidget | None) -> None:
        if now is not None and self.isAncestorOf(now):
            self.ensureWidgetVisible(now, 20, 60)


_CHANGED = "It changed by more than the rule allows: answer these before the adjuster is turned (D08-72)."


def _column_words(visit: Visit | None, name: str) -> str:
    return f"{name}\n{words.day(visit.on)}" if visit is not None else ""


def _instrument_words(instrument: Instrument, today: date) -> str:
    calibration = instrument.calibration_on(today)
    due = f"calibration due {words.day(calibration.due_on)}" if calibration else ""
    state = due or f"OUT OF CALIBRATION on {words.day(today)}"
    return f"{instrument.reference}, {instrument.kind.value}, {state}"
