"""What the person chooses about backups: when, where to, where else, and how long they are kept."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QHBoxLayout, QLineEdit, QPushButton, QSpinBox, QWidget

from estate.settings import Settings
from estate.window.widgets.text import label

_KEPT = (
    ("backup_all_days", "Every backup of the last", "day", 1, 365),
    ("backup_daily_days", "then the last one of each day for", "day", 1, 3650),
    ("backup_monthly_years", "then the last one of each month for", "year", 1, 100),
)
_WHEN = (
    ("backup_on_closing", "On closing a register"),
    ("backup_before_batches", "Before a sheet is taken or undone"),
)
_FOLDERS = (
    ("backup_folder", "Folder", "beside the register"),
    ("second_backup_folder", "Second folder", "none: a disk that dies takes the backups with it"),
)


class BackupChoices(QWidget):
    """Shows the settings about backups and tells each change.

    Attributes:
        changed: names of settings with their new values.
    """

    changed = Signal(dict)

    def __init__(
        self, settings: Settings, folder: Callable[[str], Path | None], parent: QWidget | None = None
    ) -> None:
        """Show settings; `folder` asks for one with a title."""
        super().__init__(parent)
        self._folder = folder
        self.folders: dict[str, QLineEdit] = {}
        self.choosing: dict[str, QPushButton] = {}
        self.kept: dict[str, QSpinBox] = {}
        self.when: dict[str, QCheckBox] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnStretch(1, 1)
        for row, (name, words, empty) in enumerate(_FOLDERS):
            self._add_folder(row, name, words, empty, getattr(settings, name))
        self._grid.addWidget(label("Kept", "muted"), 2, 0)
        self._grid.addLayout(self._keeping(settings), 2, 1, 1, 3)
        self._grid.addWidget(label("Made", "muted"), 3, 0)
        self._grid.addLayout(self._making(settings), 3, 1, 1, 3)

    def _add_folder(self, row: int, name: str, words: str, empty: str, value: str) -> None:
        field = self.folders[name] = QLineEdit(value)
        field.setAccessibleName(words)
        field.setPlaceholderText(empty)
        field.setClearButtonEnabled(True)
        field.editingFinished.connect(lambda: self._tell(name, field.text().strip()))
        field.textChanged.connect(lambda text: None if text else self._tell(name, ""))
        choose = self.choosing[name] = QPushButton("Choose…")
        choose.setAccessibleName(f"Choose the {words.casefold()}")
        choose.clicked.connect(lambda: self._on_choose(name, words))
        self._grid.addWidget(label(words, "muted"), row, 0)
        self._grid.addWidget(field, row, 1)
        self._grid.addWidget(choose, row, 2)

    def _on_choose(self, name: str, words: str) -> None:
        chosen = self._folder(f"{words} for backups")
        if chosen is not None:
            self.folders[name].setText(str(chosen))
            self._tell(name, str(chosen))

    def _keeping(self, settings: Settings) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(6)
        for name, words, unit, least, most in _KEPT:
            field = self.kept[name] = _Count(unit, least, most)
            field.setValue(getattr(settings, name))
            field.setAccessibleName(words)
            field.valueChanged.connect(lambda value, name=name: self._tell(name, value))
            row.addWidget(label(words))
            row.addWidget(field)
        row.addStretch(1)
        return row

    def _making(self, settings: Settings) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(14)
        for name, words in _WHEN:
            box = self.when[name] = QCheckBox(words)
            box.setChecked(getattr(settings, name))
            box.toggled.connect(lambda ticked, name=name: self._tell(name, ticked))
            row.addWidget(box)
        row.addWidget(label("and always before an upgrade and before restoring", "muted"))
        row.addStretch(1)
        return row

    def _tell(self, name: str, value: Any) -> None:
        self.changed.emit({name: value})


class _Count(QSpinBox):
    """A number of days or years."""

    def __init__(self, unit: str, least: int, most: int) -> None:
        super().__init__()
        self._unit = unit
        self.setRange(least, most)
        self.setMinimumHeight(self.fontMetrics().height() + 12)
        self.valueChanged.connect(self._on_value)
        self._on_value(least)

    def _on_value(self, value: int) -> None:
        self.setSuffix(f" {self._unit}" if value == 1 else f" {self._unit}s")
