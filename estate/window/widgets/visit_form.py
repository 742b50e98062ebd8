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
from estate.window.models.field_words import SUPPLIES
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
from estate.window.translating import said, tr
from estate.window.widgets.caught import CaughtField
from estate.window.widgets.entry import AnswerField, NumberField, WheelGuard, WordsField, tell_whole
from estate.window.widgets.field_whys import FieldWhys
from estate.window.widgets.steps_form import StepsForm
from estate.window.widgets.text import label

_INSTRUMENT_CHARACTERS = 24


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
        whys: why each limit is what it is.
    """

    edited = Signal()

    def __init__(self, background: Background, today: date, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._background = background
        self.fields: dict[str, NumberField | AnswerField] = {}
        self._guard = WheelGuard(self)
        self.whys = FieldWhys(self)
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
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus)

    def _make_head(self, today: date) -> None:
        self.kind = QComboBox()
        self.kind.setAccessibleName(tr("Kind of visit"))
        for kind in VisitKind:
            self.kind.addItem(words.sentence(tr(kind.value)), kind)
        self.on = QDateEdit(QDate(today.year, today.month, today.day))
        self.on.setLocale(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
        self.on.setDisplayFormat("d MMM yyyy")
        self.on.setCalendarPopup(True)
        self.on.setAccessibleName(tr("Date of the visit"))
        self.person = WordsField(tr("Person who made the visit"), self._background.people)
        self.instrument = QComboBox()
        self.instrument.setAccessibleName(tr("Instrument"))
        tell_whole(self.instrument)
        self.instrument.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.instrument.setMinimumContentsLength(_INSTRUMENT_CHARACTERS)
        self.instrument.addItem(tr("not recorded"), None)
        for each in self._background.instruments:
            self.instrument.addItem(_instrument_words(each, today), each.id)
        self.remarks = QLineEdit()
        self.remarks.setAccessibleName(tr("Remarks"))
        self.kind.currentIndexChanged.connect(self._on_kind)
        self.on.dateChanged.connect(self._on_edited)
        self.instrument.currentIndexChanged.connect(self._on_edited)
        for widget in (self.kind, self.on, self.person, self.instrument):
            widget.installEventFilter(self._guard)

    def _fill(self) -> None:
        row = self._fill_head()
        for section in SECTIONS:
            row = self._fill_section(section, row)
        self._grid.addWidget(label(tr("Remarks"), "heading"), row, 0, 1, 5)
        self._grid.addWidget(self.remarks, row + 1, 0, 1, 5)

    def _fill_head(self) -> int:
        named = (
            (tr("Kind of visit"), self.kind),
            (tr("Date"), self.on),
            (tr("Person"), self.person),
            (tr("Instrument"), self.instrument),
        )
        for row, (name, widget) in enumerate(named):
            self._grid.addWidget(label(name), row, 0)
            self._grid.addWidget(widget, row, 1, 1, 4)
        row = len(named) + 1
        self._grid.addWidget(self.steps, row - 1, 0, 1, 5)
        for place, visit in ((3, self._background.last), (4, self._background.reference)):
            head = label(_column_words(visit, tr("Last") if place == 3 else tr("Reference")), "small")
            head.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom)
            self._grid.addWidget(head, row, place)
        return row

    def _fill_section(self, section: Section, row: int) -> int:
        if row > 5:
            self._grid.setRowMinimumHeight(row, 28)
        heading = label(tr(section.heading), "heading")
        self._grid.addWidget(heading, row, 0, 1, 3, Qt.AlignmentFlag.AlignBottom)
        row += 1
        if section.before_adjusting:
            self._asked_first = label(tr(_CHANGED), "caution", wraps=True)
            self._asked_first.hide()
            self._grid.addWidget(self._asked_first, row, 0, 1, 5)
            row += 1
        if section.note:
            self._grid.addWidget(label(tr(section.note), "caution", wraps=True), row, 0, 1, 5)
            row += 1
        for each in section.fields:
            self._fill_field(each, row)
            row += 2  # what explains its limit has a row of its own
            supply, _, name = each.path.partition("_isolated.")
            if name == "residual_ml_min":
                self._fill_caught(supply, row)
                row += 1
        return row

    def _fill_caught(self, supply: str, row: int) -> None:
        flow, caught = self.fields[f"{supply}_isolated.residual_ml_min"], self.caught[supply]
        caught.flowed.connect(flow.put)
        caught.edited.connect(self.edited)
        self._grid.addWidget(label("  " + tr("or caught in a vessel"), "muted"), row, 0)
        self._grid.addWidget(caught, row, 1, 1, 2)

    def _fill_field(self, field: VisitField, row: int) -> None:
        name = f"{section_of(field)}: {field.told}{', ' + field.unit if field.unit else ''}"
        widget = NumberField(name) if field.is_number else AnswerField(name)
        if field.hint:
            widget.setToolTip(tr(field.hint))
        widget.edited.connect(self.edited)
        widget.installEventFilter(self._guard)
        self.fields[field.path] = widget
        self._grid.addWidget(label(field.told), row, 0)
        self._grid.addWidget(widget, row, 1)
        limit = self._background.limits.get(field.path)
        if limit is None:
            self._grid.addWidget(label(field.unit, "muted"), row, 2)
        else:
            beside, why = self.whys.beside(field.path, name, field.unit, limit, widget)
            self._grid.addWidget(beside, row, 2)
            self._grid.addWidget(why, row + 1, 0, 1, 5)
        for place, visit in ((3, self._background.last), (4, self._background.reference)):
            before = label(shown(value_of(visit.readings, field.path), field.unit) if visit else "", "muted")
            before.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(before, row, place)

    def ask_first(self, asked: bool) -> None:
        """Say whether the checks before an adjustment are wanted, because the valve changed."""
        self._asked_first.setVisible(asked)

    def put(self, draft: VisitDraft) -> None:
        """Show a visit in the fields."""
        self.kind.setCurrentIndex(self.kind.findData(draft.kind))
        self.on.setDate(QDate(draft.on.year, draft.on.month, draft.on.day))
        self.person.put(draft.person)
        self._instrument_words = draft.instrument_words
        if draft.instrument_words:
            self.instrument.setItemText(
                0, tr("as written: {instrument_words}", instrument_words=draft.instrument_words)
            )
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
            *(f"{section_of(each)}, {each.told.lower()}" for each in wrong),
            *(
                tr(
                    "{supply} isolated, caught in a vessel: millilitres and seconds",
                    supply=tr(SUPPLIES[supply]),
                )
                for supply in caught
            ),
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


_CHANGED = said(
    "It changed by more than the rule allows: answer these before the adjuster is turned (D08-72)."
)


def _column_words(visit: Visit | None, name: str) -> str:
    return f"{name}\n{words.day(visit.on)}" if visit is not None else ""


def _instrument_words(instrument: Instrument, today: date) -> str:
    calibration = instrument.calibration_on(today)
    due = tr("calibration due {day}", day=words.day(calibration.due_on)) if calibration else ""
    state = due or tr("OUT OF CALIBRATION on {day}", day=words.day(today))
    return f"{instrument.reference}, {tr(instrument.kind.value)}, {state}"
