"""Whether the layout of a sheet is remembered, under which name and for which sender."""

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QWidget

from estate.window.translating import tr
from estate.window.widgets.entry import HintedField
from estate.window.widgets.text import label


class Remembering(QWidget):
    """A box to tick, a name and a sender."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.keep = QCheckBox(tr("Remember how this sheet lies, as"))
        self.name = HintedField()
        self.name.setPlaceholderText(tr("name of the layout"))
        self.name.setAccessibleName(tr("Name of the layout"))
        self.sent_by = HintedField()
        self.sent_by.setPlaceholderText(tr("who sends such sheets"))
        self.sent_by.setAccessibleName(tr("Who sends such sheets"))
        self.keep.toggled.connect(self._settle)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.keep)
        row.addWidget(self.name)
        row.addWidget(label(tr("of")))
        row.addWidget(self.sent_by)
        row.addStretch(1)
        self._settle()

    def _settle(self) -> None:
        for field in (self.name, self.sent_by):
            field.setEnabled(self.keep.isChecked())

    def tell(self, used: str) -> None:
        """Begin with the layout that was used, if one was."""
        if used and not self.name.text():
            self.name.setText(used)

    @property
    def said(self) -> tuple[str, str]:
        """Name and sender; both empty where nothing is to be remembered."""
        name = self.name.text().strip()
        return (name, self.sent_by.text().strip()) if self.keep.isChecked() and name else ("", "")
