"""What the person chooses about backups: when, where to, where else, and how long they are kept."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QPushButton, QSpinBox, QWidget

from estate.settings import Settings
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import label

_DAYS = (said("{n} day"), said("{n} days"))
_YEARS = (said("{n} year"), said("{n} years"))
_KEPT = (
    ("backup_all_days", said("Every backup of the last"), _DAYS, 1, 365),
    ("backup_daily_days", said("then the last one of each day for"), _DAYS, 1, 3650),
    ("backup_monthly_years", said("then the last one of each month for"), _YEARS, 1, 100),
)
_WHEN = (
    ("backup_on_closing", said("On closing a register")),
    ("backup_before_batches", said("Before a sheet is taken or undone")),
)
_FOLDERS = (
    ("backup_folder", said("Folder"), said("beside the register")),
    ("second_backup_folder", said("Second folder"), said("none: a disk that dies takes the backups with it")),
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
            self._add_folder(row, name, tr(words), tr(empty), getattr(settings, name))
        self.wrong = label("", "wrong", wraps=True)
        self.wrong.hide()
        self._grid.addWidget(self.wrong, 2, 1, 1, 3)
        self._grid.addWidget(label(tr("Kept"), "muted"), 3, 0)
        self._grid.addLayout(self._keeping(settings), 3, 1, 1, 3)
        self._grid.addWidget(label(tr("Made"), "muted"), 4, 0)
        self._grid.addLayout(self._making(settings), 4, 1, 1, 3)

    def _add_folder(self, row: int, name: str, words: str, empty: str, value: str) -> None:
        field = self.folders[name] = QLineEdit(value)
        field.setAccessibleName(words)
        field.setPlaceholderText(empty)
        field.setClearButtonEnabled(True)
        field.editingFinished.connect(lambda: self._on_folder(name))
        field.textChanged.connect(lambda text: None if text else self._tell(name, ""))
        choose = self.choosing[name] = QPushButton(tr("Choose…"))
        choose.setAccessibleName(tr("Choose the {words}", words=words.casefold()))
        choose.clicked.connect(lambda: self._on_choose(name, words))
        self._grid.addWidget(label(words, "muted"), row, 0)
        self._grid.addWidget(field, row, 1)
        self._grid.addWidget(choose, row, 2)

    def _on_folder(self, name: str) -> None:
        """Take a folder that was typed; half a path would lie wherever the program was started."""
        typed = self.folders[name].text().strip()
        half = bool(typed) and not Path(typed).is_absolute()
        said_so = tr(
            "{typed} is only part of a path, so backups go where they went. Give all of it.", typed=typed
        )
        self.wrong.setText(said_so if half else "")
        self.wrong.setVisible(half)
        if not half:
            self._tell(name, typed)

    def _on_choose(self, name: str, words: str) -> None:
        chosen = self._folder(tr("{words} for backups", words=words))
        if chosen is not None:
            self.folders[name].setText(str(chosen))
            self._on_folder(name)

    def _keeping(self, settings: Settings) -> Flowing:
        row = Flowing(gap=6)
        for name, words, unit, least, most in _KEPT:
            field = self.kept[name] = _Count(unit, least, most)
            field.setValue(getattr(settings, name))
            field.setAccessibleName(tr(words))
            field.valueChanged.connect(lambda value, name=name: self._tell(name, value))
            row.addWidget(label(tr(words)))
            row.addWidget(field)
        return row

    def _making(self, settings: Settings) -> Flowing:
        row = Flowing(gap=14)
        for name, words in _WHEN:
            box = self.when[name] = QCheckBox(tr(words))
            box.setChecked(getattr(settings, name))
            box.toggled.connect(lambda ticked, name=name: self._tell(name, ticked))
            row.addWidget(box)
        row.addWidget(label(tr("and always before an upgrade and before restoring"), "muted"))
        return row

    def _tell(self, name: str, value: Any) -> None:
        self.changed.emit({name: value})


class _Count(QSpinBox):
    """A number of days or years."""

    def __init__(self, unit: tuple[str, str], least: int, most: int) -> None:
        super().__init__()
        self._unit = unit
        self.setRange(least, most)
        self.setMinimumHeight(self.fontMetrics().height() + 12)
        self.valueChanged.connect(self._on_value)
        self._on_value(least)

    def _on_value(self, value: int) -> None:
        before, _, after = tr_count(value, *self._unit).partition(str(value))
        self.setPrefix(before)
        self.setSuffix(after)
