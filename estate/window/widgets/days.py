"""Which days are wanted: all, the last few, or from one day to another."""

from datetime import date, timedelta
from typing import Final

from PySide6.QtCore import QDate, Signal
from PySide6.QtWidgets import QComboBox, QDateEdit, QHBoxLayout, QWidget

from estate.window.translating import said, tr
from estate.window.widgets.text import label

_LAST: Final = (
    (said("All days"), None),
    (said("Today"), 0),
    (said("Last 7 days"), 6),
    (said("Last 31 days"), 30),
    (said("From … to …"), -1),
)
_CHOSEN: Final = len(_LAST) - 1


class DayRange(QWidget):
    """A choice of days.

    Attributes:
        changed: other days are wanted.
    """

    changed = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._today = date.min
        self.which = QComboBox()
        self.which.setAccessibleName(name)
        self.which.addItems([tr(words) for words, _ in _LAST])
        self.first, self.last = (
            self._day(tr("{name}, {which} day", name=name, which=which))
            for which in (tr("first"), tr("last"))
        )
        self._to = label(tr("to"))
        row = QHBoxLayout(self)
        row.setContentsMargins(3, 3, 3, 3)  # room for the ring of what has the keys
        row.setSpacing(6)
        for widget in (self.which, self.first, self._to, self.last):
            row.addWidget(widget)
        self._settle()
        self.which.currentIndexChanged.connect(self._on_which)
        for each in (self.first, self.last):
            each.dateChanged.connect(self.changed)

    def _day(self, name: str) -> QDateEdit:
        made = QDateEdit()
        made.setAccessibleName(name)
        made.setCalendarPopup(True)
        made.setDisplayFormat("d MMM yyyy")
        return made

    def know(self, today: date) -> None:
        """Learn which day it is; the days to choose begin with it."""
        if today != self._today:
            self._today = today
            for each in (self.first, self.last):
                each.blockSignals(True)
                each.setDate(QDate(today.year, today.month, today.day))
                each.blockSignals(False)

    def clear(self) -> None:
        """Want all days."""
        self.which.setCurrentIndex(0)

    @property
    def wanted(self) -> tuple[date | None, date | None]:
        """The first and the last day wanted; None where there is no end."""
        place = self.which.currentIndex()
        if place == _CHOSEN:
            return _of(self.first), _of(self.last)
        back = _LAST[place][1]
        return (None, None) if back is None else (self._today - timedelta(days=back), self._today)

    def _settle(self) -> None:
        for widget in (self.first, self._to, self.last):
            widget.setVisible(self.which.currentIndex() == _CHOSEN)

    def _on_which(self) -> None:
        self._settle()
        self.changed.emit()


def _of(field: QDateEdit) -> date:
    return date(field.date().year(), field.date().month(), field.date().day())
