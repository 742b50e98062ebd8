"""Dialogs about instruments: a new one, and a further calibration."""

from collections.abc import Collection
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLineEdit, QWidget
from typing_extensions import override

from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.domain.references import reference_key
from estate.window import words
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import said, tr
from estate.window.widgets.entry import NumberField
from estate.window.widgets.text import label

_A_YEAR = 365
_UNCERTAINTY = said(
    "As on its certificate, in kelvins. A certificate gives most often the expanded uncertainty U with "
    "k = 2: enter half of it. Leave it empty where it is not known."
)


class _WithCalibration(Form):
    """Has the fields of a calibration."""

    def add_calibration(self, today: date) -> None:
        """Put the fields in."""
        self.held = QWidget()
        self.on = day_field(tr("Calibrated on"), today, today)
        self.due_on = day_field(tr("Due again on"), date.fromordinal(today.toordinal() + _A_YEAR))
        self.certificate = QLineEdit()
        self.certificate.setAccessibleName(tr("Certificate"))
        row = QHBoxLayout(self.held)
        row.setContentsMargins(3, 3, 3, 3)  # room for the ring of what has the keys
        for name, field in ((tr("Calibrated on"), self.on), (tr("due again on"), self.due_on)):
            row.addWidget(label(name, "muted"))
            row.addWidget(field)
        row.addStretch(1)
        self.body.addWidget(self.held)
        self.add(tr("Certificate: its number, or where it is kept"), self.certificate)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.certificate.textChanged.connect(lambda text: self._settle())
        for day in (self.on, self.due_on):
            day.dateChanged.connect(lambda on: self._settle())

    def calibration(self) -> Calibration:
        """What was entered."""
        return Calibration(day_in(self.on), day_in(self.due_on), self.certificate.text().strip())

    def _ends_first(self) -> str:
        ends_first = self.due_on.date() < self.on.date()
        return tr("It would be due again before it was calibrated: correct one of the two days.") * ends_first

    def _settle(self) -> None:
        self._say(self._ends_first())

    def _say(self, wrong: str) -> None:
        self.wrong.setText(wrong)
        self.wrong.setVisible(bool(wrong))
        self.make_room()


class AddInstrumentDialog(_WithCalibration):
    """Takes an instrument.

    Args:
        taken: references that are in the register.

    Attributes:
        given: (reference, kind, specification, uncertainty in K or None, calibration or None). The dialog
            stays until that is kept.
    """

    given = Signal(str, object, str, object, object)

    def __init__(self, today: date, taken: Collection[str], parent: QWidget | None) -> None:
        super().__init__(tr("Add an instrument"), parent)
        self.setMinimumWidth(560)
        self._taken = {reference_key(each) for each in taken}
        self.reference, self.specification = QLineEdit(), QLineEdit()
        self.kind = QComboBox()
        self.kind.setAccessibleName(tr("Kind"))
        for kind in InstrumentKind:
            self.kind.addItem(words.sentence(tr(kind.value)), kind)
        self.uncertainty = NumberField(tr("Standard uncertainty, K"))
        self.uncertainty.setAlignment(self.reference.alignment())
        self.calibrated = QCheckBox(tr("It has a certificate of calibration"))
        self.calibrated.setChecked(True)
        self._lay_out(today)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the instrument"), self._on_act, main=True)
        self.reference.textChanged.connect(lambda text: self._settle())
        self.uncertainty.textChanged.connect(lambda text: self._settle())
        self.calibrated.toggled.connect(self._on_calibrated)
        self._settle()

    def _lay_out(self, today: date) -> None:
        for field, name in (
            (self.reference, tr("Reference: the mark on its case")),
            (self.specification, tr("Specification")),
        ):
            field.setAccessibleName(name)
        self.specification.setPlaceholderText(tr("such as: type T probe, resolves 0.1 K"))
        self.add(tr("Reference: the mark on its case"), self.reference)
        self.add(tr("Kind"), self.kind)
        self.add(tr("Specification; the same words mean the same kind (D08-71)"), self.specification)
        self.add(tr("Standard uncertainty u (k = 1), K"), self.uncertainty)
        self.body.addWidget(label(tr(_UNCERTAINTY), "small", wraps=True))
        self.body.addWidget(self.calibrated)
        self.add_calibration(today)

    def _on_calibrated(self, has: bool) -> None:
        self.held.setEnabled(has)
        self.certificate.setEnabled(has)
        self._settle()

    @override
    def _settle(self) -> None:
        key = reference_key(self.reference.text())
        wrong = self._ends_first() if self.calibrated.isChecked() else ""
        if not self.uncertainty.readable or (self.uncertainty.value() or 0.0) < 0:
            wrong = tr("The uncertainty is no number of kelvins, 0 or more. Type it like 0.2")
        if key in self._taken:
            wrong = tr(
                "An instrument with this reference is in the register already: add a calibration to it."
            )
        self._say(wrong)
        told = not self.calibrated.isChecked() or bool(self.certificate.text().strip())
        self.act.setEnabled(bool(key) and told and not wrong)

    def _on_act(self) -> None:
        self.given.emit(
            self.reference.text().strip(),
            InstrumentKind(self.kind.currentData()),
            self.specification.text().strip(),
            self.uncertainty.value(),
            self.calibration() if self.calibrated.isChecked() else None,
        )


class CalibrationDialog(_WithCalibration):
    """Takes a further calibration.

    Attributes:
        given: the calibration. The dialog stays until that is kept.
    """

    given = Signal(object)

    def __init__(self, instrument: Instrument, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Add a calibration of {reference}", reference=instrument.reference), parent)
        self.setMinimumWidth(520)
        before = max((each.due_on for each in instrument.calibrations), default=None)
        said = (
            tr("No calibration is on record.")
            if before is None
            else tr("The last one is due {day}.", day=words.day(before))
        )
        self.body.addWidget(label(said, "small", wraps=True))
        self.add_calibration(today)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the calibration"), self._on_act, main=True)
        self._settle()

    @override
    def _settle(self) -> None:
        super()._settle()
        self.act.setEnabled(bool(self.certificate.text().strip()) and not self._ends_first())

    def _on_act(self) -> None:
        self.given.emit(self.calibration())
