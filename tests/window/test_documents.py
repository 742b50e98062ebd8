"""Documents of an outlet in the window: added, shown small, opened only by the person's word, voided."""

from pathlib import Path

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage, QImageWriter
from PySide6.QtWidgets import QPushButton

from estate.domain.documents import MediaType
from estate.window.dialogs.document import AddDocumentDialog, OpeningDialog
from estate.window.dialogs.entry import WordsDialog
from estate.window.dialogs.faults import FaultDialog
from estate.window.pictures import settle
from estate.window.widgets.documents_panel import DocumentsPanel
from estate.window.widgets.thumbnail import SIDE, thumbnail
from tests.files import JPEG, PDF, png
from tests.window.conftest import Seat


@pytest.fixture
def panel(seat: Seat) -> DocumentsPanel:
    reading = seat.window.showing.reading
    assert reading is not None
    seat.window.showing.show_outlet(reading.lines[0].outlet_id)
    settle()
    return seat.window.pages.outlet.documents


def _add(seat: Seat, panel: DocumentsPanel, path: Path, content: bytes, remark: str = "") -> None:
    path.write_bytes(content)
    seat.answers.to_open = path
    panel.add_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, AddDocumentDialog)
    dialog.remark.setText(remark)
    _press(dialog, dialog.windowTitle())
    settle()


def _press(dialog: object, words: str) -> None:
    assert isinstance(dialog, AddDocumentDialog | OpeningDialog | WordsDialog | FaultDialog)
    next(each for each in dialog.findChildren(QPushButton) if each.text() == words).click()
    settle()


def test_that_an_outlet_without_documents_says_what_to_do(panel: DocumentsPanel) -> None:
    assert panel.listing.isHidden()
    assert not panel.open_button.isEnabled()
    assert panel.add_button.isEnabled()


def test_that_a_document_is_added_shown_opened_and_voided(
    seat: Seat, panel: DocumentsPanel, tmp_path: Path
) -> None:
    _add(seat, panel, tmp_path / "plate.png", png(400, 200), "the valve's plate")
    _add(seat, panel, tmp_path / "certificate.pdf", PDF)
    assert [each.name for each in panel.documents] == ["certificate.pdf", "plate.png"]
    shown = panel.listing.item(1).text().splitlines()
    assert shown[:2] == ["plate.png  (PNG picture, 657 bytes)", "the valve's plate"]
    assert shown[2].endswith("added by A. Officer on 25 Nov 2026")
    assert panel.listing.item(1).icon().actualSize(panel.listing.iconSize()).width() == SIDE
    panel.listing.setCurrentRow(1)
    panel.open_button.click()
    assert seat.answers.shown == []
    _press(seat.dialog(), "Open it")
    (copy,) = seat.answers.shown
    assert copy.read_bytes() == png(400, 200)
    panel.void_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, WordsDialog)
    dialog.line.setText("of another valve")
    _press(dialog, "Make void")
    assert panel.listing.item(1).text().startswith("VOID  plate.png")
    assert "Void: of another valve (A. Officer" in panel.listing.item(1).text()
    panel.listing.setCurrentRow(1)
    assert not panel.void_button.isEnabled()
    seat.window.seat(None)
    settle()
    assert not copy.parent.exists()


def test_that_a_document_is_taken_out_to_a_file(seat: Seat, panel: DocumentsPanel, tmp_path: Path) -> None:
    _add(seat, panel, tmp_path / "certificate.pdf", PDF)
    panel.listing.setCurrentRow(0)
    panel.take_out_button.click()
    seat.answers.to_write = tmp_path / "out.pdf"
    panel.take_out_button.click()
    settle()
    assert (tmp_path / "out.pdf").read_bytes() == PDF


def test_that_a_refused_file_is_told_and_nothing_typed_is_lost(
    seat: Seat, panel: DocumentsPanel, tmp_path: Path
) -> None:
    _add(seat, panel, tmp_path / "certificate.pdf", b"MZ\x90\x00", "what it shows")
    faults = [each for each in seat.dialogs() if isinstance(each, FaultDialog)]
    (adding,) = [each for each in seat.dialogs() if isinstance(each, AddDocumentDialog)]
    assert len(faults) == 1
    assert adding.remark.text() == "what it shows"
    assert panel.documents == ()
    seat.answers.to_open = None
    panel.add_button.click()
    assert panel.documents == ()


def test_that_files_are_dropped_in(seat: Seat, panel: DocumentsPanel, tmp_path: Path) -> None:
    for name, content in (("a.pdf", PDF), ("b.png", png(2, 2))):
        (tmp_path / name).write_bytes(content)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / name)) for name in ("a.pdf", "b.png")])
    where, actions = QPoint(5, 5), Qt.DropAction.CopyAction
    keys = (Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier)
    entering = QDragEnterEvent(where, actions, data, *keys)
    panel.dragEnterEvent(entering)
    assert entering.isAccepted()
    panel.dropEvent(QDropEvent(QPointF(where), actions, data, *keys))
    dialog = seat.dialog()
    assert isinstance(dialog, AddDocumentDialog)
    assert dialog.windowTitle() == "Add 2 documents"
    _press(dialog, dialog.windowTitle())
    assert sorted(each.name for each in panel.documents) == ["a.pdf", "b.png"]
    assert seat.dialogs() == []


def _jpeg(width: int, height: int) -> bytes:
    image, kept = QImage(width, height, QImage.Format.Format_RGB32), QByteArray()
    image.fill(Qt.GlobalColor.darkCyan)
    buffer = QBuffer(kept)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    assert QImageWriter(buffer, QByteArray(b"jpeg")).write(image)
    return bytes(kept.data())


def test_that_a_small_picture_is_within_its_bound_and_of_its_shape() -> None:
    wide = thumbnail(_jpeg(900, 300), MediaType.JPEG)
    assert wide is not None
    assert (wide.width(), wide.height()) == (SIDE, round(SIDE / 3))
    long = thumbnail(png(1, 600), MediaType.PNG)
    assert long is not None
    assert (long.width(), long.height()) == (1, SIDE)
    tiny = thumbnail(png(3, 2), MediaType.PNG)
    assert tiny is not None
    assert (tiny.width(), tiny.height()) == (3, 2)


@pytest.mark.qt_log_ignore("JPEG", "JFIF")
def test_that_no_other_kind_and_nothing_broken_is_drawn() -> None:
    assert thumbnail(PDF, MediaType.PDF) is None
    assert thumbnail(png(3, 2), MediaType.JPEG) is None
    assert thumbnail(JPEG, MediaType.JPEG) is None
    assert thumbnail(png(3, 2)[:40], MediaType.PNG) is None
