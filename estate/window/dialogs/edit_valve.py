"""Changes what is recorded of a valve body, and takes the first body of an outlet."""

from datetime import date
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from estate.domain.editing import ValveChange
from estate.domain.valves import Valve
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import said, tr
from estate.window.widgets.text import label
from estate.window.widgets.valve_fields import ValveFields, fields_of

_SAME_BODY: Final = said(
    "For what was recorded wrongly or is newly known of this very body. Where another body was fitted, "
    "replace the valve instead, so that each keeps its own history."
)
_JUDGED: Final = said("What was judged by a field that changes is judged again; the first judgement stays.")
_COMMISSION: Final = said(
    "A competent person fits it as the maker says, with hot and cold isolated and the pressure let off. Keep "
    "people from the outlet until it is commissioned: an action asks for that."
)


class EditValveDialog(Form):
    """Takes what becomes different of what is recorded.

    Attributes:
        given: (the `ValveChange`, the reason). The dialog stays until that is kept.
    """

    given = Signal(object, str)

    def __init__(self, reference: str, body: Valve, parent: QWidget | None) -> None:
        super().__init__(tr("Change the valve at {reference}", reference=reference), parent)
        self._body = body
        self.setMinimumWidth(720)
        self.body.addWidget(label(tr(_SAME_BODY), "small", wraps=True))
        self.fields = ValveFields(body)
        self.body.addWidget(self.fields)
        self.why = QLineEdit()
        self.why.setAccessibleName(tr("Reason"))
        self.why.setMaxLength(200)
        self.add(tr("Reason"), self.why)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addWidget(label(tr(_JUDGED), "small", wraps=True))
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Change the valve"), self._on_act, main=True)
        self.fields.edited.connect(self._settle)
        self.why.textChanged.connect(lambda text: self._settle())
        self._settle()

    @property
    def change(self) -> ValveChange:
        """What becomes different; None for what stays."""
        was, now = fields_of(self._body), fields_of(self.fields.body())
        return ValveChange(**{name: value for name, value in now.items() if value != was[name]})

    @property
    def mine(self) -> dict[str, str]:
        """What the form says, by field."""
        now = fields_of(self.fields.body())
        return {name.replace("_", " "): "" if value is None else str(value) for name, value in now.items()}

    def _wrong(self) -> str:
        was, now = fields_of(self._body), fields_of(self.fields.body())
        emptied = [
            name for name, value in now.items() if value in (None, "", ()) and was[name] not in (None, "", ())
        ]
        if self.fields.wrong() or not emptied:
            return self.fields.wrong()
        told = ", ".join(each.replace("_", " ") for each in emptied)
        return tr("What was recorded can't be emptied ({fields}). Type what is right.", fields=told)

    def _settle(self) -> None:
        wrong = self._wrong()
        self.wrong.setText(wrong)
        self.wrong.setVisible(bool(wrong))
        said_why = bool(self.why.text().strip())
        self.act.setEnabled(self.change != ValveChange() and not wrong and said_why)
        self.make_room()

    def _on_act(self) -> None:
        self.given.emit(self.change, self.why.text().strip())


class FitValveDialog(Form):
    """Takes the first body of an outlet.

    Attributes:
        given: (the `Valve`, the day of the work or None). The dialog stays until that is kept.
    """

    given = Signal(object, object)

    def __init__(self, reference: str, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Fit a valve at {reference}", reference=reference), parent)
        self.setMinimumWidth(720)
        self.body.addWidget(label(tr(_COMMISSION), "caution", wraps=True))
        self.fields = ValveFields(Valve(0, "", "", ""))
        self.body.addWidget(self.fields)
        self.on = day_field(tr("Day of the work"), today, today)
        self.add(tr("Day of the work"), self.on)
        self.unknown = QCheckBox(tr("The day is not known: it was there before the register"))
        self.unknown.toggled.connect(self.on.setDisabled)
        self.body.addWidget(self.unknown)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Fit the valve"), self._on_act, main=True)
        self.fields.edited.connect(self._settle)
        self._settle()

    def _settle(self) -> None:
        wrong = self.fields.wrong()
        self.wrong.setText(wrong)
        self.wrong.setVisible(bool(wrong))
        self.act.setEnabled(self.fields.named() and not wrong)
        self.make_room()

    def _on_act(self) -> None:
        on = None if self.unknown.isChecked() else day_in(self.on)
        self.given.emit(self.fields.body(), on)
