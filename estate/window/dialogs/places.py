"""Dialogs of places: what one is called, and an outlet that is added to a room."""

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from estate.domain.browsing import PlaceKind
from estate.domain.editing import OutletDraft, PlaceNames
from estate.domain.places import Use, UserGroup
from estate.window import words
from estate.window.dialogs.form import Form
from estate.window.translating import said, tr
from estate.window.widgets.choice import Choice
from estate.window.widgets.field_grid import FieldGrid, MeasureField
from estate.window.widgets.text import label

PIPE_MOST_M: Final = 500.0
_NAMES: Final = {
    PlaceKind.SITE: said("Name of the site"),
    PlaceKind.BUILDING: said("Name of the building"),
    PlaceKind.LEVEL: said("Name of the level, such as G or 2"),
    PlaceKind.ROOM: said("Name of the room, such as Bathroom"),
}
_TESTED_NEXT: Final = said(
    "It has no valve yet: fit one next. Until a visit is recorded it counts as not tested, and nothing says "
    "that its water is safe."
)


class PlaceNamesDialog(Form):
    """Takes what a site, building, level or room is called.

    Args:
        title: what is done.
        kind: the storey.
        where: the place that it lies in, in words; empty for a site.
        names: what stands there at first.
        act: words of the main button.

    Attributes:
        given: the `PlaceNames`. The dialog stays until they are kept.
    """

    given = Signal(object)

    def __init__(
        self, title: str, kind: PlaceKind, where: str, names: PlaceNames, act: str, parent: QWidget | None
    ) -> None:
        super().__init__(title, parent)
        self.setMinimumWidth(480)
        self._kind = kind
        if where:
            self.body.addWidget(label(tr("In {where}", where=where), "muted", wraps=True))
        self.number = QLineEdit(names.number)
        if kind is PlaceKind.ROOM:
            self.number.setAccessibleName(tr("Number of the room"))
            self.add(tr("Number of the room"), self.number)
        self.name = QLineEdit(names.name)
        self.name.setAccessibleName(tr(_NAMES[kind]))
        self.add(tr(_NAMES[kind]), self.name)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(act, self._on_act, main=True)
        for field in (self.number, self.name):
            field.setMaxLength(120)
            field.textChanged.connect(lambda text: self._settle())
        (self.number if kind is PlaceKind.ROOM and not names.number else self.name).setFocus()
        self._settle()

    def _settle(self) -> None:
        room = self._kind is PlaceKind.ROOM
        self.act.setEnabled(bool(self.name.text().strip() or (room and self.number.text().strip())))

    def _on_act(self) -> None:
        self.given.emit(PlaceNames(self.name.text().strip(), self.number.text().strip()))


class AddOutletDialog(Form):
    """Takes an outlet that is added to a room.

    Args:
        room: in words.
        begins: how references in that room begin.

    Attributes:
        given: the `OutletDraft`. The dialog stays until it is kept.
    """

    given = Signal(object)

    def __init__(self, room: str, begins: str, parent: QWidget | None) -> None:
        super().__init__(tr("Add an outlet to {room}", room=room), parent)
        self.setMinimumWidth(600)
        self.body.addWidget(label(tr(_TESTED_NEXT), "small", wraps=True))
        self.reference = QLineEdit(begins)
        self.words = QLineEdit()
        self.words.setPlaceholderText(tr("such as basin by the door"))
        self.use = Choice(tr("What it is for"), [(tr("choose one"), None), *uses()])
        self.user_group = Choice(tr("Who uses it"), [(tr("choose one"), None), *user_groups()])
        self.pipe = MeasureField(tr("Blended pipe to the outlet"), "m", PIPE_MOST_M)
        self.little_used = QCheckBox(tr("It is little used, so it has to be flushed"))
        fields = FieldGrid(2)
        fields.add(tr("Reference"), self.reference)
        fields.add(tr("What it is called in its room"), self.words)
        fields.add(tr("What it is for"), self.use)
        fields.add(tr("Who uses it"), self.user_group)
        fields.add(tr("Blended pipe to the outlet; may stay empty"), self.pipe)
        self.body.addWidget(fields)
        self.body.addWidget(self.little_used)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the outlet"), self._on_act, main=True)
        for line in (self.reference, self.words, self.pipe.line):
            line.textChanged.connect(lambda text: self._settle())
        for choice in (self.use, self.user_group):
            choice.currentIndexChanged.connect(lambda index: self._settle())
        self._begins = begins.strip()
        self._settle()

    def _settle(self) -> None:
        self.wrong.setText(self.pipe.wrong)
        self.wrong.setVisible(bool(self.pipe.wrong))
        reference = self.reference.text().strip()
        chosen = self.use.value() is not None and self.user_group.value() is not None
        self.act.setEnabled(chosen and reference not in ("", self._begins) and not self.pipe.wrong)
        self.make_room()

    def _on_act(self) -> None:
        draft = OutletDraft(
            reference=self.reference.text().strip(),
            words=self.words.text().strip(),
            use=self.use.value(),
            user_group=self.user_group.value(),
            little_used=self.little_used.isChecked(),
            pipe_m=self.pipe.value(),
        )
        self.given.emit(draft)


def uses() -> list[tuple[str, Use]]:
    """Every use, with its words."""
    return [(words.sentence(tr(each.value)), each) for each in Use]


def user_groups() -> list[tuple[str, UserGroup]]:
    """Every group of users, with its words."""
    return [(words.sentence(tr(each.value)), each) for each in UserGroup]
