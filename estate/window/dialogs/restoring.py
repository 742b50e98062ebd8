"""What restoring from a backup would change, before it does."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.trust import BackupFile, RestorePreview
from estate.window.widgets.text import label

_KEPT = (
    "The present file is kept first, as a backup “before restoring” or, where it is damaged, as it lies. "
    "Restoring is an entry of the trail, and can be taken back by restoring that backup. "
    "Close the register on every other machine before."
)


class RestoreDialog(Shell):
    """Shows a preview and asks.

    Attributes:
        confirmed: whether the person vouches that the backup is of this register.
    """

    confirmed = Signal(bool)

    def __init__(
        self, register: Path, backup: BackupFile, preview: RestorePreview, parent: QWidget | None = None
    ) -> None:
        super().__init__(f"Restore {register.name}?", parent)
        self.setMinimumWidth(680)
        made = f"The backup of {words.moment(backup.at)} ({backup.reason or 'no reason told'})"
        said = f"{made} was opened and proved whole: {preview.name}, {preview.entries:,} ledger entries."
        self.body.addWidget(label(said, wraps=True))
        self.body.addWidget(label("What would change", "heading"))
        for line in preview.words:
            self.body.addWidget(label(line, "strong", wraps=True))
        self.body.addWidget(label(_KEPT, wraps=True))
        self.sure = QCheckBox("I know that this backup is of this register")
        self.sure.setHidden(preview.compared)
        self.body.addWidget(self.sure)
        self.body.addStretch(1)
        self.button("Leave", self.reject)
        self.act = self.button("Restore", self._on_act, main=True)
        self.act.setEnabled(preview.compared)
        self.sure.toggled.connect(self.act.setEnabled)

    def _on_act(self) -> None:
        self.confirmed.emit(self.sure.isChecked())
        self.accept()
