"""The backups of a register, open or not: a list, a further one, restoring, and the settings."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from estate.settings import Settings
from estate.window.dialogs.shell import Shell
from estate.window.models.backup_rows import Numbered, backups_model
from estate.window.translating import tr
from estate.window.trust import BackupFile
from estate.window.widgets.backup_choices import BackupChoices
from estate.window.widgets.listing import Listing
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import Card, label
from estate.window.words import together


class BackupsDialog(Shell):
    """Lists the backups of one register.

    Attributes:
        make_asked: the person wants a backup now.
        restore_asked: the file to restore from.
        changed: settings with their new values.
    """

    make_asked = Signal()
    restore_asked = Signal(object)
    changed = Signal(dict)

    def __init__(
        self,
        register: Path,
        settings: Settings,
        folder: Callable[[str], Path | None],
        is_open: bool,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tr("Backups of {name}", name=register.name), parent)
        self.resize(1080, 640)
        self.where = label("", "muted", wraps=True)
        self.said = label("", wraps=True)
        self._nothing = label(tr("There is no backup yet."), "large")
        self._model = backups_model()
        self.listing: Listing[Numbered] = Listing(self._model, tr("Backups, newest first"))
        self.make = QPushButton(tr("Back up now"))
        self.restore = QPushButton(tr("Restore…"))
        self.make.setEnabled(is_open)
        self.strip = ProgressStrip()
        self.choices = BackupChoices(settings, folder)
        self._lay_out()
        self.make.clicked.connect(self.make_asked)
        self.restore.clicked.connect(self._on_restore)
        self.listing.picked.connect(lambda key: self._settle())
        self.listing.opened.connect(lambda key: self._on_restore())
        self.choices.changed.connect(self.changed)
        self.button(tr("Close"), self.accept, main=True)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.addWidget(self.where, 1)
        row.addWidget(self.restore)
        row.addWidget(self.make)
        self.body.addLayout(row)
        self.body.addWidget(self._nothing, 1)
        self.body.addWidget(self.listing, 1)
        self.body.addWidget(self.said)
        self.body.addWidget(self.strip)
        card = Card(tr("Where to, how long, and when"))
        card.body.addWidget(self.choices)
        self.body.addWidget(card)

    def tell(self, backups: Sequence[BackupFile]) -> None:
        """Show the backups."""
        lies = tr("They lie in the folder “{name}”.", name=backups[0].path.parent.name) if backups else ""
        self.where.setText(together(lies, tr("Each was compared with the register when it was made.")))
        self.where.setToolTip(str(backups[0].path.parent) if backups else "")
        self._model.fill(enumerate(backups))
        self._nothing.setVisible(not backups)
        self.listing.setVisible(bool(backups))
        if backups:
            self.listing.selectRow(0)
        self._settle()

    def say(self, words: str) -> None:
        """Say what came of something."""
        self.said.setText(words)

    def chosen(self) -> BackupFile | None:
        """The backup that is chosen."""
        key = self.listing.current_key()
        return next((each for number, each in self._model.rows if number == key), None)

    def _settle(self) -> None:
        backup = self.chosen()
        self.restore.setEnabled(backup is not None and backup.entries is not None)

    def _on_restore(self) -> None:
        backup = self.chosen()
        if backup is not None and self.restore.isEnabled():
            self.restore_asked.emit(backup)
