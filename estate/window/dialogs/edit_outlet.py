"""Changes what is recorded of one outlet."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from estate.domain.editing import FROM_ABOVE, OutletChange
from estate.domain.places import Outlet
from estate.window.dialogs.form import Form
from estate.window.dialogs.places import PIPE_MOST_M, user_groups, uses
from estate.window.models.outlet_changes import cautions, preview
from estate.window.translating import tr
from estate.window.widgets.choice import Choice
from estate.window.widgets.field_grid import FieldGrid, MeasureField
from estate.window.widgets.text import label


class EditOutletDialog(Form):
    """Takes what becomes different at an outlet.

    Args:
        outlet: as it is.
        rule_sets: (words, id) of each that can be chosen.
        visited: whether it has a visit that counts.

    Attributes:
        given: (the `OutletChange`, the reason). The dialog stays until that is kept.
    """

    given = Signal(object, str)

    def __init__(
        self, outlet: Outlet, rule_sets: Sequence[tuple[str, str]], visited: bool, parent: QWidget | None
    ) -> None:
        super().__init__(tr("Change the outlet {reference}", reference=outlet.reference), parent)
        self._outlet, self._visited = outlet, visited
        self.setMinimumWidth(640)
        self.body.addWidget(label(str(outlet.path), "muted", wraps=True))
        self.reference, self.words = QLineEdit(outlet.reference), QLineEdit(outlet.path.outlet)
        self.use = Choice(tr("What it is for"), uses(), outlet.use)
        self.user_group = Choice(tr("Who uses it"), user_groups(), outlet.user_group)
        above = (tr("The one of the building or the estate"), FROM_ABOVE)
        self.rule_set = Choice(tr("Rule set"), [above, *rule_sets], outlet.rule_set or FROM_ABOVE)
        self.pipe = MeasureField(tr("Blended pipe to the outlet"), "m", PIPE_MOST_M)
        self.pipe.put(outlet.pipe_m)
        self.little_used = QCheckBox(tr("It is little used, so it has to be flushed"))
        self.little_used.setChecked(outlet.little_used)
        self.why = QLineEdit()
        self._lay_out()
        self._settle()

    def _lay_out(self) -> None:
        fields = FieldGrid(2)
        fields.add(tr("Reference"), self.reference)
        fields.add(tr("What it is called in its room"), self.words)
        fields.add(tr("What it is for"), self.use)
        fields.add(tr("Who uses it"), self.user_group)
        fields.add(tr("Rule set"), self.rule_set)
        fields.add(tr("Blended pipe to the outlet"), self.pipe)
        self.body.addWidget(fields)
        self.body.addWidget(self.little_used)
        self.caution = label("", "caution", wraps=True)
        self.body.addWidget(self.caution)
        self.why.setAccessibleName(tr("Reason"))
        self.why.setMaxLength(200)
        self.add(tr("Reason"), self.why)
        self.wrong, self.preview = label("", "wrong", wraps=True), label("", "strong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addWidget(self.preview)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Change the outlet"), self._on_act, main=True)
        for line in (self.reference, self.words, self.pipe.line, self.why):
            line.textChanged.connect(lambda text: self._settle())
        for choice in (self.use, self.user_group, self.rule_set):
            choice.currentIndexChanged.connect(lambda index: self._settle())
        self.little_used.toggled.connect(lambda ticked: self._settle())

    @property
    def change(self) -> OutletChange:
        """What becomes different; None for what stays."""
        was, little = self._outlet, self.little_used.isChecked()
        use, user_group, rules = self.use.value(), self.user_group.value(), self.rule_set.value()
        reference, called, pipe = self.reference.text().strip(), self.words.text().strip(), self.pipe.value()
        return OutletChange(
            use=None if use is was.use else use,
            user_group=None if user_group is was.user_group else user_group,
            little_used=None if little == was.little_used else little,
            rule_set=None if rules == (was.rule_set or FROM_ABOVE) else rules,
            reference=None if reference == was.reference else reference,
            words=None if called == was.path.outlet else called,
            pipe_m=None if pipe == was.pipe_m else pipe,
        )

    @property
    def mine(self) -> dict[str, str]:
        """What the form says, by field."""
        return {
            "reference": self.reference.text(),
            "words": self.words.text(),
            "use": self.use.currentText(),
            "user group": self.user_group.currentText(),
            "rule set": self.rule_set.currentText(),
            "little used": tr("yes") if self.little_used.isChecked() else tr("no"),
            "pipe m": self.pipe.line.text(),
        }

    def _wrong(self) -> str:
        if not self.reference.text().strip():
            return tr("Reference: it can't be empty. Type what stands at the outlet.")
        if self._outlet.pipe_m is not None and not self.pipe.line.text().strip():
            return tr("Blended pipe: a length that was measured can't be emptied. Type the right one.")
        return self.pipe.wrong

    def _settle(self) -> None:
        change, wrong = self.change, self._wrong()
        weighed = cautions([self._outlet], change)
        self.caution.setText("\n".join(weighed))
        self.caution.setVisible(bool(weighed))
        self.wrong.setText(wrong)
        self.wrong.setVisible(bool(wrong))
        needed = bool(weighed) and not self.why.text().strip()
        told = preview(1, change, int(self._visited))
        self.preview.setText(tr("{told} Say why first.", told=told) if needed else told)
        self.act.setEnabled(change != OutletChange() and not wrong and not needed)
        self.make_room()

    def _on_act(self) -> None:
        self.given.emit(self.change, self.why.text().strip())
