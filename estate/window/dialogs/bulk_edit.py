"""Changes one field or several of many outlets at once; what is not chosen stays as it is."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from estate.domain.editing import FROM_ABOVE, OutletChange
from estate.domain.places import Outlet
from estate.window import words
from estate.window.dialogs.form import Form
from estate.window.dialogs.places import user_groups, uses
from estate.window.models.outlet_changes import cautions, preview, shares, what_differs
from estate.window.translating import tr, tr_count
from estate.window.widgets.choice import Choice
from estate.window.widgets.field_grid import FieldGrid
from estate.window.widgets.text import label

_ALONE: Final = ("reference", "name", "pipe m", "retired on")
"""Fields that are never changed for many at once, as a conflict names them."""


class BulkEditDialog(Form):
    """Takes what becomes different at outlets.

    Args:
        outlets: as they are.
        where: in words, where they are.
        rule_sets: (words, id) of each that can be chosen.
        visited: how many of them have a visit that counts.
        left_out: how many of those chosen are not changed, as they are retired.

    Attributes:
        given: (the `OutletChange`, the reason). The dialog stays until that is kept.
    """

    given = Signal(object, str)

    def __init__(
        self,
        outlets: Sequence[Outlet],
        where: str,
        rule_sets: Sequence[tuple[str, str]],
        visited: int,
        left_out: int,
        parent: QWidget | None,
    ) -> None:
        held = tr_count(len(outlets), "Change {n:,} outlet", "Change {n:,} outlets")
        super().__init__(held, parent)
        self._outlets, self._visited = outlets, visited
        self.setMinimumWidth(640)
        self.body.addWidget(label(_where(where, left_out), "muted", wraps=True))
        self.user_group = Choice(tr("Who uses them"), [self._as_they_are("user_group"), *user_groups()])
        self.use = Choice(tr("What they are for"), [self._as_they_are("use"), *uses()])
        own = [(tr("The one of the building or the estate"), FROM_ABOVE), *rule_sets]
        self.rule_set = Choice(tr("Rule set"), [self._as_they_are("rule_set"), *own])
        answers = [(tr("Little used"), True), (tr("Not little used"), False)]
        self.little_used = Choice(tr("Little used"), [self._as_they_are("little_used"), *answers])
        fields = FieldGrid(1)
        for name, choice in self._choices():
            fields.add(name, choice)
            choice.currentIndexChanged.connect(lambda index: self._settle())
        self.body.addWidget(fields)
        self.caution = label("", "caution", wraps=True)
        self.preview = label("", "strong", wraps=True)
        self.why = QLineEdit()
        self.why.setAccessibleName(tr("Reason"))
        self.why.setMaxLength(200)
        self.why.textChanged.connect(lambda text: self._settle())
        self.body.addWidget(self.caution)
        self.add(tr("Reason"), self.why)
        self.body.addWidget(self.preview)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(held, self._on_act, main=True)
        self._settle()

    def _choices(self) -> list[tuple[str, Choice]]:
        return [
            (tr("Who uses them"), self.user_group),
            (tr("What they are for"), self.use),
            (tr("Rule set"), self.rule_set),
            (tr("Little used"), self.little_used),
        ]

    def _as_they_are(self, field: str) -> tuple[str, None]:
        mixed = shares(self._outlets, lambda each: getattr(each, field), _said)
        return (tr("As they are: {mixed}", mixed=mixed), None)

    @property
    def change(self) -> OutletChange:
        """What becomes different."""
        given = OutletChange(
            use=self.use.value(),
            user_group=self.user_group.value(),
            little_used=self.little_used.value(),
            rule_set=self.rule_set.value(),
        )
        return what_differs(self._outlets, given)

    def mine(self) -> dict[str, str]:
        """What the form says by outlet and field, beside what somebody else changed."""
        chosen = {"use": self.use, "user group": self.user_group}
        chosen |= {"rule set": self.rule_set, "little used": self.little_used}
        told = dict.fromkeys(_ALONE, tr("as it is now"))
        for field, choice in chosen.items():
            told[field] = tr("as it is now") if choice.value() is None else choice.currentText()
        return {f"{each.reference}: {field}": said for each in self._outlets for field, said in told.items()}

    def _settle(self) -> None:
        change = self.change
        weighed = cautions(self._outlets, change)
        self.caution.setText("\n".join(weighed))
        self.caution.setVisible(bool(weighed))
        told = preview(len(self._outlets), change, self._visited)
        needed = bool(weighed) and not self.why.text().strip()
        self.preview.setText(tr("{told} Say why first.", told=told) if needed else told)
        self.act.setEnabled(change != OutletChange() and not needed)
        self.make_room()

    def _on_act(self) -> None:
        self.given.emit(self.change, self.why.text().strip())


def _said(value: object) -> str:
    if isinstance(value, bool):
        return tr("little used") if value else tr("not little used")
    return tr(str(value)) if value else tr("from the building or the estate")


def _where(where: str, left_out: int) -> str:
    if not left_out:
        return where
    said = tr_count(left_out, "{n:,} retired outlet is left out", "{n:,} retired outlets are left out")
    return words.sentence(f"{where}; {said}")
