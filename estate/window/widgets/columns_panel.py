"""What each column of a sheet is taken for, to be changed by hand."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from estate.domain.layouts import FieldOffer, Form, Layout, LayoutColumn, SheetKind, TableColumn, TableMap
from estate.window.models.field_words import LEFT_OUT, field_words, unit_words
from estate.window.translating import said, tr
from estate.window.widgets.entry import tell_whole
from estate.window.widgets.text import empty, label
from estate.window.words import together

_HOW = {
    "words": said("by its heading"),
    "layout": said("as remembered"),
    "values": said("by its values"),
    "neighbours": said("by its neighbours"),
}


class ColumnsPanel(QWidget):
    """One line a heading: what it is taken for and in which unit.

    Attributes:
        changed: the `Layout` with which the sheet should be read again.
    """

    changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind = SheetKind.VISITS
        self._form = Form.ROWS
        self._lines: list[tuple[TableColumn, QComboBox, QComboBox]] = []
        self._offers: dict[str, FieldOffer] = {}
        held = QWidget()
        held.setProperty("kind", "page")
        self._grid = QGridLayout(held)
        self._grid.setColumnStretch(1, 1)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(4)
        area = QScrollArea()
        area.setWidget(held)
        area.setWidgetResizable(True)
        area.setAccessibleName(tr("Headings and what they are taken for"))
        self.again = QPushButton(tr("Read the sheet so"))
        self.again.clicked.connect(self._on_again)
        self.said = label("", "muted", wraps=True)
        row = QHBoxLayout()
        row.setContentsMargins(8, 0, 8, 6)
        row.addWidget(self.said, 1)
        row.addWidget(self.again)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(area, 1)
        column.addLayout(row)

    @property
    def lines(self) -> Sequence[tuple[TableColumn, QComboBox, QComboBox]]:
        """Each heading with its boxes for field and unit."""
        return tuple(self._lines)

    def tell(
        self, kind: SheetKind, tables: Sequence[TableMap], offers: Sequence[FieldOffer], layout: str
    ) -> None:
        """Show the columns of the tables of a file, a heading that several share once.

        Args:
            kind: of the file.
            tables: as they were understood.
            offers: what a column can be taken for.
            layout: name of the remembered layout that was used; empty for none.
        """
        self._kind = kind
        self._form = tables[0].form if tables else Form.ROWS
        self._offers = {each.name: each for each in offers}
        self._lines = []
        empty(self._grid)
        for place, title in enumerate((tr("Heading in the file"), tr("Taken as"), tr("Unit"), tr("Known"))):
            self._grid.addWidget(label(title, "muted"), 0, place)
        columns = {column.heading: column for table in reversed(tables) for column in reversed(table.columns)}
        for row, column in enumerate(sorted(columns.values(), key=lambda each: each.index), start=1):
            self._line(row, column)
        self._grid.setRowStretch(len(columns) + 1, 1)
        used = tr("Read with the remembered layout “{layout}”.", layout=layout) if layout else ""
        change = tr("Change a line and read the sheet again; nothing is written by it.")
        self.said.setText(together(used, change))
        self.again.setEnabled(False)

    def _line(self, row: int, column: TableColumn) -> None:
        field, unit = QComboBox(), QComboBox()
        field.setAccessibleName(tr("{heading}: taken as", heading=column.heading))
        unit.setAccessibleName(tr("{heading}: unit", heading=column.heading))
        for box, characters in ((field, 18), (unit, 7)):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(characters)
            tell_whole(box)
        field.addItem(tr(LEFT_OUT), "")
        for offer in self._offers.values():
            field.addItem(field_words(offer.name), offer.name)
        field.setCurrentIndex(max(field.findData(column.field), 0))
        self._units(unit, column.field, column.unit)
        field.currentIndexChanged.connect(lambda: self._on_field(field, unit))
        unit.currentIndexChanged.connect(lambda: self.again.setEnabled(True))
        heading = label(column.heading, wraps=True)
        heading.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        how = label(_known(column), "small")
        for place, widget in enumerate((heading, field, unit, how)):
            self._grid.addWidget(widget, row, place)
        self._lines.append((column, field, unit))

    def _units(self, box: QComboBox, field: str, unit: str) -> None:
        offer = self._offers.get(field)
        box.blockSignals(True)
        box.clear()
        box.addItem(tr("as written"), "")
        for name in offer.units if offer is not None else ():
            box.addItem(unit_words(name), name)
        box.setCurrentIndex(max(box.findData(unit), 0))
        box.blockSignals(False)
        box.setToolTip(box.currentText())
        box.setEnabled(box.count() > 1)

    def _on_field(self, field: QComboBox, unit: QComboBox) -> None:
        self._units(unit, field.currentData(), "")
        self.again.setEnabled(True)

    def layout_now(self) -> Layout:
        """What the lines say, as a layout without a name."""
        columns = tuple(
            LayoutColumn(column.heading, field.currentData(), unit.currentData())
            for column, field, unit in self._lines
        )
        return Layout("", self._kind, columns, self._form)

    def _on_again(self) -> None:
        self.changed.emit(self.layout_now())


def _known(column: TableColumn) -> str:
    """How a column became known, or what it may be."""
    if column.field:
        return tr(_HOW.get(column.how, ""))
    return tr("perhaps {field}", field=field_words(column.suggested)) if column.suggested else ""
