"""The documents and photographs of an outlet: dropped in, shown small, opened only by the person's word."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, QSize, Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QIcon, QImage, QPainter, QPalette, QPen, QPixmap
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.documents import Document, MediaType
from estate.window import words
from estate.window.translating import said, tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import label
from estate.window.widgets.thumbnail import SIDE

_NONE = said(
    "Nothing is kept here yet. Drop a file in, or add one: a commissioning certificate, a photograph of the "
    "valve's plate, a calibration. Its content is checked, its bytes are kept as they are."
)


class DocumentsPanel(QWidget):
    """Shows documents with what they belong to.

    Args:
        heading: says whose they are; empty for those of an outlet.
        nothing: said where there are none; empty for an outlet.

    Attributes:
        add_asked: files dropped in; none where the person is to choose one.
        open_asked, take_out_asked, void_asked: the `Document` meant.
        counted: how many are shown, void ones too.
    """

    add_asked = Signal(list)
    open_asked = Signal(object)
    take_out_asked = Signal(object)
    void_asked = Signal(object)
    counted = Signal(int)

    def __init__(self, heading: str = "", nothing: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heading = heading or tr("Documents of this outlet, its valves and its visits")
        self.setAcceptDrops(True)
        self.documents: tuple[Document, ...] = ()
        self._small: dict[int, QImage] = {}
        self._nothing = label(nothing or tr(_NONE), "muted", wraps=True)
        self.listing = QListWidget()
        self.listing.setAccessibleName(tr("Documents and photographs"))
        self.listing.setIconSize(QSize(SIDE, SIDE))
        self.listing.setWordWrap(True)
        self.listing.setSpacing(2)
        self.listing.setAlternatingRowColors(True)
        self.add_button = QPushButton(tr("Add a document…"))
        self.add_button.setProperty("kind", "main")
        self.open_button = QPushButton(tr("Open…"))
        self.take_out_button = QPushButton(tr("Take out…"))
        self.void_button = QPushButton(tr("Void document…"))
        self._lay_out()
        self._listen()
        self._on_picked()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addWidget(label(self._heading, "heading", wraps=True))
        row = Flowing(to_right=True)
        for button in (self.void_button, self.take_out_button, self.open_button, self.add_button):
            row.addWidget(button)
        column.addLayout(row)
        column.addWidget(self._nothing)
        column.addWidget(self.listing, 1)
        column.addStretch(0)

    def _listen(self) -> None:
        self.add_button.clicked.connect(lambda checked=False: self.add_asked.emit([]))
        for button, signal in (
            (self.open_button, self.open_asked),
            (self.take_out_button, self.take_out_asked),
            (self.void_button, self.void_asked),
        ):
            button.clicked.connect(lambda checked=False, signal=signal: signal.emit(self.chosen))
        self.listing.itemActivated.connect(lambda item: self.open_asked.emit(self.chosen))
        self.listing.currentRowChanged.connect(self._on_picked)

    @property
    def chosen(self) -> Document | None:
        """The document chosen in the list."""
        row = self.listing.currentRow()
        return self.documents[row] if 0 <= row < len(self.documents) else None

    def tell(self, documents: Sequence[Document], small: Mapping[int, QImage]) -> None:
        """Show documents, the newest first.

        Args:
            documents: oldest first.
            small: small pictures by the document's number.
        """
        self.documents, self._small = tuple(reversed(documents)), dict(small)
        self.listing.clear()
        for each in self.documents:
            self.listing.addItem(self._item(each))
        self._draw()
        self._nothing.setVisible(not self.documents)
        self.listing.setVisible(bool(self.documents))
        self._on_picked()
        self.counted.emit(len(self.documents))

    def _draw(self) -> None:
        for row, each in enumerate(self.documents):
            framed = _framed(self._small.get(each.id), each.media_type, self.palette())
            self.listing.item(row).setIcon(QIcon(framed))

    def _item(self, document: Document) -> QListWidgetItem:
        item = QListWidgetItem("\n".join(_lines(document)))
        if document.void is not None:
            font = item.font()
            font.setItalic(True)
            item.setFont(font)
        return item

    def _on_picked(self) -> None:
        document = self.chosen
        self.open_button.setEnabled(document is not None)
        self.take_out_button.setEnabled(document is not None)
        self.void_button.setEnabled(document is not None and document.void is None)

    @override
    def changeEvent(self, event: QEvent) -> None:
        if event.type() is QEvent.Type.PaletteChange:
            self._draw()
        super().changeEvent(event)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.add_button.isEnabled() and dropped(event.mimeData()):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        files = dropped(event.mimeData())
        if self.add_button.isEnabled() and files:
            event.acceptProposedAction()
            self.add_asked.emit(files)


def dropped(data: QMimeData) -> list[Path]:
    """Files of this machine that are dragged in."""
    return [Path(each.toLocalFile()) for each in data.urls() if each.isLocalFile()]


def _lines(document: Document) -> list[str]:
    void = f"{tr('VOID')}  " if document.void is not None else ""
    head = f"{void}{document.name}  ({document.media_type.words}, {document.size_words})"
    who = document.who or tr("nobody named")
    added = tr(
        "{owner}; added by {who} on {day}",
        owner=document.owner.words,
        who=who,
        day=words.day(document.at.date()),
    )
    lines = [head, *([document.remark] if document.remark else []), added]
    if document.void is not None:
        by = document.void.who or tr("nobody named")
        lines.append(
            tr(
                "Void: {why} ({by}, {day})",
                why=document.void.why,
                by=by,
                day=words.day(document.void.at.date()),
            )
        )
    return lines


def _framed(small: QImage | None, kind: MediaType, palette: QPalette) -> QPixmap:
    """A square with a small picture in its middle, or with the ending of a kind that is not drawn."""
    square = QPixmap(SIDE, SIDE)
    square.fill(Qt.GlobalColor.transparent)
    painter = QPainter(square)
    if small is not None:
        painter.drawImage((SIDE - small.width()) // 2, (SIDE - small.height()) // 2, small)
    else:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(palette.color(QPalette.ColorRole.Text), 1.5))
        sheet = square.rect().adjusted(SIDE // 6, 3, -SIDE // 6, -3)
        painter.drawRoundedRect(sheet, 4, 4)
        painter.drawText(sheet, Qt.AlignmentFlag.AlignCenter, kind.endings[0].removeprefix(".").upper())
    painter.end()
    return square
