"""The sheets of a file as they are, beside what was read of them."""

from collections.abc import Sequence

from PySide6.QtGui import QBrush, QFontMetrics
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QTableView, QVBoxLayout, QWidget

from estate.domain.cell_names import place_of
from estate.domain.layouts import ShownSheet, TableMap
from estate.domain.questions import Question
from estate.window.models.shown_sheet import Place, ShownSheetModel
from estate.window.schemes import shades_of
from estate.window.shades import Tone
from estate.window.translating import tr

_WIDEST_CHARACTERS = 28


class SheetPicture(QWidget):
    """Shows one sheet at a time; the cells asked about stand on a tinted ground."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheets: tuple[ShownSheet, ...] = ()
        self._tables: tuple[TableMap, ...] = ()
        self._questions: tuple[Question, ...] = ()
        self.sheets = QComboBox()
        self.sheets.setAccessibleName(tr("Sheet of the file"))
        self.model = ShownSheetModel(self)
        self.cells = QTableView()
        self.cells.setModel(self.model)
        self.cells.setAccessibleName(tr("The sheet as it is"))
        self._behave()
        self.sheets.currentIndexChanged.connect(self._on_sheet)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.sheets)
        column.addWidget(self.cells, 1)

    def _behave(self) -> None:
        self.cells.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.cells.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.cells.setWordWrap(False)
        self.cells.setTabKeyNavigation(False)
        self.cells.verticalHeader().setDefaultSectionSize(int(self.fontMetrics().height() * 1.5))
        self.cells.horizontalHeader().setMinimumSectionSize(30)

    def tell(
        self, sheets: Sequence[ShownSheet], tables: Sequence[TableMap], questions: Sequence[Question]
    ) -> None:
        """Show the sheets of a file, the one that holds the first table first chosen."""
        kept = self.sheets.currentText()
        self._sheets, self._tables = tuple(sheets), tuple(tables)
        self._questions = tuple(questions)
        self.sheets.blockSignals(True)
        self.sheets.clear()
        for each in self._sheets:
            self.sheets.addItem(tr("{name}, hidden", name=each.name) if each.hidden else each.name)
        self.sheets.blockSignals(False)
        self.sheets.setVisible(len(self._sheets) > 1)
        read = {each.sheet for each in tables}
        first = next((place for place, each in enumerate(self._sheets) if each.name in read), 0)
        self.sheets.setCurrentIndex(max(self.sheets.findText(kept), 0) if kept else first)
        self._on_sheet(self.sheets.currentIndex())

    def _on_sheet(self, place: int) -> None:
        if not 0 <= place < len(self._sheets):
            return
        sheet = self._sheets[place]
        header = {row - 1 for table in self._tables if table.sheet == sheet.name for row in table.header}
        asked: dict[Place, str] = {}
        for each in self._questions:
            found = place_of(each.cell)
            if each.sheet == sheet.name and found is not None:
                asked[found] = tr(each.remedy)
        ground = QBrush(shades_of(self.palette()).tint(Tone.MEND).darker(106))
        self.model.show(sheet, header, asked, ground)
        self._measure(sheet)

    def _measure(self, sheet: ShownSheet) -> None:
        """Give each column the room of its first fifty cells."""
        bold = self.cells.font()
        bold.setBold(True)
        metrics = QFontMetrics(bold)
        for column in range(self.model.columnCount()):
            texts = [row[column] for row in sheet.rows[:50] if column < len(row)]
            widest = max((metrics.horizontalAdvance(text) for text in texts), default=0)
            most = metrics.averageCharWidth() * _WIDEST_CHARACTERS
            self.cells.setColumnWidth(column, min(max(widest, metrics.averageCharWidth() * 4), most) + 24)

    def go_to(self, sheet: str, row: int, cell: str = "") -> bool:
        """Show and choose a cell, or the row where there is no such cell; whether it is there.

        Args:
            sheet: name of the sheet.
            row: 1-based.
            cell: such as ``C9``.
        """
        place = next((place for place, each in enumerate(self._sheets) if each.name == sheet), None)
        if place is None:
            return False
        self.sheets.setCurrentIndex(place)
        found = place_of(cell) or (row - 1, 0)
        index = self.model.index(*found)
        if not index.isValid():
            return False
        self.cells.scrollTo(index, QAbstractItemView.ScrollHint.PositionAtCenter)
        if cell:
            self.cells.setCurrentIndex(index)
        else:
            self.cells.selectRow(found[0])
        return True
