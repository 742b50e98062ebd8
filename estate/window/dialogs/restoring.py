"""What restoring from a backup would change, before it does."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.translating import said, tr
from estate.window.trust import BackupFile, RestorePreview
from estate.window.widgets.text import label

_KEPT = said(
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
        super().__init__(tr("Restore {name}?", name=register.name), parent)
        self.setMinimumWidth(680)
        made = tr(
            "The backup of {moment} ({reason})",
            moment=words.moment(backup.at),
            reason=tr(backup.reason) or tr("no reason told"),
        )
        said = tr(
            "{made} was opened and proved whole: {name}, {entries:,} ledger entries.",
            made=made,
            name=preview.name,
            entries=preview.entries,
        )
        self.body.addWidget(label(said, wraps=True))
        self.body.addWidget(label(tr("What would change"), "heading"))
        for line in preview.words:
            self.body.addWidget(label(line, "strong", wraps=True))
        self.body.addWidget(label(tr(_KEPT), wraps=True))
        self.sure = QCheckBox(tr("I know that this backup is of this register"))
        self.sure.setHidden(preview.compared)
        self.body.addWidget(self.sure)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Restore"), self._on_act, main=True)
        self.act.setEnabled(preview.compared)
        self.sure.toggled.connect(self.act.setEnabled)

    def _on_act(self) -> None:
        self.confirmed.emit(self.sure.isChecked())
        self.accept()
