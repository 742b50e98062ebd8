"""Takes the body that is fitted in the place of another."""

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from estate.domain.valves import DESIGNATIONS, SchemeClass, Valve
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import said, tr
from estate.window.widgets.entry import NumberField
from estate.window.widgets.text import label

_CAUTION = said(
    "Isolate hot and cold and let the pressure off before the old body is taken out; a competent person does "
    "it, as the maker says. Keep the outlet out of use until the new body is commissioned."
)
_KEPT = said("The old body keeps its whole history. An action asks for the commissioning of the new one.")


class ReplaceValveDialog(Form):
    """Takes the new body.

    Attributes:
        given: (the `Valve`, the day of the work). The dialog stays until that is kept.
    """

    given = Signal(object, object)

    def __init__(self, reference: str, old: Valve, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Replace the valve at {reference}", reference=reference), parent)
        self.setMinimumWidth(560)
        self.body.addWidget(label(tr("In place: {old}", old=old.words), "strong", wraps=True))
        self.body.addWidget(label(tr(_CAUTION), "caution", wraps=True))
        self.body.addWidget(label(tr(_KEPT), "small", wraps=True))
        self.make, self.model, self.serial = QLineEdit(old.make), QLineEdit(old.model), QLineEdit()
        for name, field in (
            (tr("Make"), self.make),
            (tr("Model"), self.model),
            (tr("Serial number"), self.serial),
        ):
            field.setAccessibleName(name)
            self.add(name, field)
        self.kind = QComboBox()
        self.kind.setAccessibleName(tr("Scheme class"))
        self.kind.addItem(tr("not recorded"), None)
        for each in SchemeClass:
            self.kind.addItem(tr("Type {each}", each=each.value), each)
        self.kind.setCurrentIndex(max(0, self.kind.findData(old.scheme_class)))
        self.add(tr("Scheme class"), self.kind)
        self.designations = QLineEdit()
        self.designations.setAccessibleName(tr("Designations, as on the body"))
        self.designations.setPlaceholderText(tr("such as HP-W LP-W"))
        self.add(tr("Designations, as on the body"), self.designations)
        self.set_c = NumberField(tr("To be set to, °C"))
        self.set_c.put(old.set_c)
        self.add(tr("To be set to, °C"), self.set_c)
        self.on = day_field(tr("Day of the work"), today, today)
        self.add(tr("Day of the work"), self.on)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Replace the valve"), self._on_act, main=True)
        for line in (self.make, self.model, self.serial, self.designations, self.set_c):
            line.textChanged.connect(lambda text: self._settle())
        self._settle()

    def _codes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self.designations.text().upper().replace(",", " ").split()))

    def _settle(self) -> None:
        unknown = [each for each in self._codes() if each not in DESIGNATIONS]
        self.wrong.setText(tr("Not a designation: {unknown}", unknown=", ".join(unknown)) if unknown else "")
        self.wrong.setVisible(bool(unknown))
        named = all(each.text().strip() for each in (self.make, self.model, self.serial))
        self.act.setEnabled(named and not unknown and self.set_c.readable)

    def _on_act(self) -> None:
        chosen, set_c = self.kind.currentData(), self.set_c.value()
        body = Valve(
            id=0,
            make=self.make.text().strip(),
            model=self.model.text().strip(),
            serial=self.serial.text().strip(),
            scheme_class=None if chosen is None else SchemeClass(chosen),
            designations=self._codes(),
            set_c=None if set_c is None else float(set_c),
        )
        self.given.emit(body, day_in(self.on))
