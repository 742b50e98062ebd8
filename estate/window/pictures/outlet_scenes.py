"""Scenes of an outlet's page and a place's that are not seen at first."""

from datetime import UTC, datetime, time

from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget

from estate.domain.documents import Document, DocumentVoid, MediaType, Owner
from estate.window.pictures.place_scenes import outlet, place
from estate.window.pictures.stage import Stage, opened, settle
from estate.window.widgets.thumbnail import SIDE


def why(stage: Stage) -> QWidget:
    """Why a limit and a date are what they are."""
    outlet(stage)
    page = stage.window.pages.outlet
    page.band.why.click()
    for button in list(page.cards.limits.why.values())[:1]:
        button.click()
    return stage.window


def why_no_more(stage: Stage) -> QWidget:
    """The reasons are hidden again."""
    page = stage.window.pages.outlet
    page.band.why.click()
    for button in list(page.cards.limits.why.values())[:1]:
        button.click()
    return stage.window


def kept_papers(stage: Stage) -> QWidget:
    """A photograph and papers kept with an outlet, one of them void."""
    outlet(stage)
    page = stage.window.pages.outlet
    day, owner = stage.desk.today, Owner("outlet", 1, page.page.outlet.reference if page.page else "")
    at = datetime.combine(day, time(9), UTC)
    void = DocumentVoid("E. Marlow", at, "The plate of the valve next to it")
    told = (
        ("commissioning.pdf", MediaType.PDF, 412_000, "Commissioning sheet, signed", None),
        ("plate next door.jpg", MediaType.JPEG, 96_000, "", void),
        ("basin before.jpg", MediaType.JPEG, 184_320, "Before the strainers were cleaned", None),
    )
    kept = [
        Document(number, owner, name, kind, size, "0" * 64, at, "E. Marlow", remark, voided)
        for number, (name, kind, size, remark, voided) in enumerate(told, start=1)
    ]
    page.tabs.setCurrentWidget(page.documents)
    page.documents.tell(kept, {each.id: _photograph() for each in kept if each.media_type is MediaType.JPEG})
    page.documents.listing.setCurrentRow(0)
    return stage.window


def no_papers(stage: Stage) -> QWidget:
    """The papers are the register's own again."""
    stage.window.pages.outlet.documents.tell((), {})
    return stage.window


def _photograph() -> QImage:
    """A basin with its tap, as a small picture shows it."""
    image = QImage(SIDE, SIDE * 3 // 4, QImage.Format.Format_RGB32)
    image.fill(QColor("#b9c4c6"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(0, 30, SIDE, 24, QColor("#8d9a9c"))
    painter.setBrush(QColor("#f4f6f6"))
    painter.drawEllipse(10, 24, 52, 24)
    painter.setBrush(QColor("#5c686b"))
    painter.drawRoundedRect(33, 8, 6, 22, 2, 2)
    painter.end()
    return image


def expanded(stage: Stage) -> QWidget:
    """The findings of an entry under its row."""
    outlet(stage)
    history = stage.window.pages.outlet.history
    history.selectRow(0)
    history.opened.emit(history.current_key() or 0)
    return stage.window


def floors_drawn(stage: Stage) -> QWidget:
    """The levels of a site, each a bar."""
    reading = stage.window.showing.reading
    if reading is not None:
        stage.window.panel.choose((reading.tree[0].kind, reading.tree[0].id))
        settle()
    stage.window.pages.place.tabs.setCurrentIndex(0)
    return stage.window


def building_drawn(stage: Stage) -> QWidget:
    """The levels of the building that has most of them."""
    reading = stage.window.showing.reading
    if reading is not None:
        buildings = [each for site in reading.tree for each in site.children]
        tallest = max(buildings, key=lambda each: len(each.children))
        stage.window.panel.choose((tallest.kind, tallest.id))
        settle()
    return stage.window


def floors(stage: Stage) -> QWidget:
    """The floors of a site as a table, with one state chosen."""
    reading = stage.window.showing.reading
    if reading is not None:
        stage.window.panel.choose((reading.tree[0].kind, reading.tree[0].id))
        settle()
    page = stage.window.pages.place
    page.as_table.setChecked(True)
    next(iter(page.states.buttons.values())).click()
    return stage.window


def floors_no_more(stage: Stage) -> QWidget:
    """The floors as a chart again."""
    stage.window.pages.place.as_table.setChecked(False)
    stage.window.pages.place.states.clear()
    return stage.window


def papers(stage: Stage) -> QWidget:
    """The documents of a building."""
    place(stage)
    page = stage.window.pages.place
    page.tabs.setCurrentWidget(page.documents)
    return stage.window


def sheet(stage: Stage) -> QWidget:
    """The sheet that an entry came from."""
    outlet(stage)
    history = stage.window.pages.outlet.past
    rows = history.listing.table.rows
    history.listing.choose(next(line.visit.id for line in rows if line.visit.batch_id is not None))
    history.sheet_button.click()
    return opened(stage)
