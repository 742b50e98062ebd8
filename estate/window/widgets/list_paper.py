"""A list on pages: how large its letters are, how its columns lie, and its file."""

from pathlib import Path
from typing import Final

from PySide6.QtCore import QMarginsF
from PySide6.QtGui import (
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
)

from estate import assets
from estate.domain.progress import Progress, silent
from estate.domain.shown_list import ShownList
from estate.errors import ReportFault
from estate.window.models.list_layout import Strip, Way, strips
from estate.window.translating import tr
from estate.window.widgets.list_ink import About, Room, draw_pages, mark_wide

SIZES_PT: Final = (10.0, 9.0, 8.0)
"""Sizes of letters in points, the usual one first; below the last, columns go onto several pages."""

_DOTS_AN_INCH: Final = 96.0
_MARGIN_MM: Final = 12.0
_SPARE: Final = 3.0


def paper_family() -> str:
    """The letters of the reports, narrow enough for many columns; for the window's own thread."""
    for name in ("RobotoCondensed-Regular.ttf", "RobotoCondensed-Bold.ttf"):
        QFontDatabase.addApplicationFont(str(assets.resource("fonts", name)))
    return "Roboto Condensed"


def write_pages(shown: ShownList, about: About, family: str, path: Path, progress: Progress = silent) -> Path:
    """Write a list as PDF pages, A4, lying where it is wide; may run in the worker.

    Args:
        shown: the list.
        about: what every page says.
        family: of the letters.
        path: the file.
        progress: told of pages; may raise `Cancelled`.

    Raises:
        ReportFault: the file can't be written.
    """
    try:
        path.touch()
    except OSError as error:
        title, detail = tr("The list can't be written"), f"{path}: {error.strerror}."
        raise ReportFault(title, detail, tr("Choose another folder, one that you may write in.")) from error
    writer = QPdfWriter(str(path))
    writer.setTitle(shown.title)
    writer.setResolution(1200)
    lies = not _fits(shown, family, _usable(QPageLayout.Orientation.Portrait)[0])
    turned = QPageLayout.Orientation.Landscape if lies else QPageLayout.Orientation.Portrait
    writer.setPageLayout(_layout(turned))
    painter = QPainter(writer)
    painter.scale(writer.resolution() / _DOTS_AN_INCH, writer.resolution() / _DOTS_AN_INCH)
    try:
        draw_pages(painter, writer.newPage, _room(shown, about, family, *_usable(turned)), progress)
    finally:
        painter.end()
    return path


def _layout(turned: QPageLayout.Orientation) -> QPageLayout:
    margins = QMarginsF(_MARGIN_MM, _MARGIN_MM, _MARGIN_MM, _MARGIN_MM)
    return QPageLayout(QPageSize(QPageSize.PageSizeId.A4), turned, margins, QPageLayout.Unit.Millimeter)


def _usable(turned: QPageLayout.Orientation) -> tuple[float, float]:
    room = _layout(turned).paintRect(QPageLayout.Unit.Inch)
    return room.width() * _DOTS_AN_INCH, room.height() * _DOTS_AN_INCH


def _font(family: str, size_pt: float) -> QFont:
    font = QFont(family)
    font.setPixelSize(round(size_pt * _DOTS_AN_INCH / 72))
    font.setFeature(QFont.Tag("liga"), 0)  # no two letters become one sign, so that words can be sought
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)  # as wide on paper as when measured
    return font


def _laid(shown: ShownList, font: QFont, wide: float, way: Way) -> tuple[Strip, ...]:
    strong = QFont(font)
    strong.setWeight(QFont.Weight.DemiBold)
    measure = QFontMetricsF(strong).horizontalAdvance
    return strips(shown, lambda words: measure(words) + _SPARE, mark_wide(font), wide, way)


def _fits(shown: ShownList, family: str, wide: float) -> bool:
    """Whether a page standing upright is wide enough for most words to stay in one line."""
    return bool(_laid(shown, _font(family, SIZES_PT[0]), wide, Way.EASY))


def _room(shown: ShownList, about: About, family: str, wide: float, high: float) -> Room:
    ways = [*((size, Way.EASY) for size in SIZES_PT), *((SIZES_PT[-1], way) for way in Way)]
    for size, way in ways:
        laid = _laid(shown, _font(family, size), wide, way)
        if laid:
            break
    return Room(wide, high, _font(family, size), laid, about, shown)
