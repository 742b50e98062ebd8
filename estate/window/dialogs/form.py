"""A dialog of named fields, and the fields that several dialogs have."""

from datetime import date

from PySide6.QtCore import QDate, QLocale
from PySide6.QtWidgets import QDateEdit, QPlainTextEdit, QWidget

from estate.window.dialogs.shell import Shell
from estate.window.widgets.text import label

_WORDS_HIGH = 84


def day_field(name: str, on: date, latest: date | None = None) -> QDateEdit:
    """Takes a day."""
    field = QDateEdit(QDate(on.year, on.month, on.day))
    field.setLocale(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    field.setDisplayFormat("d MMM yyyy")
    field.setCalendarPopup(True)
    field.setAccessibleName(name)
    if latest is not None:
        field.setMaximumDate(QDate(latest.year, latest.month, latest.day))
    return field


def day_in(field: QDateEdit) -> date:
    """The day of a field."""
    chosen = field.date()
    return date(chosen.year(), chosen.month(), chosen.day())


class Form(Shell):
    """A dialog of named fields."""

    def add(self, name: str, widget: QWidget, shown: bool = True) -> None:
        """Put a field under its name; one that is not shown is there for the dialog to own it."""
        for each in (label(name, "heading"), widget):
            self.body.addWidget(each)
            each.setVisible(shown)

    def lines(self, name: str) -> QPlainTextEdit:
        """A field for a few lines."""
        field = QPlainTextEdit()
        field.setAccessibleName(name)
        field.setTabChangesFocus(True)
        field.setMaximumHeight(_WORDS_HIGH)
        self.add(name, field)
        return field
