"""Small pictures of photographs, read by Qt within bounds; nothing else of a file is ever drawn."""

from typing import Final

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QImageReader

from estate.domain.documents import MediaType

SIDE: Final = 72
_MOST_MB: Final = 256
"""Memory that decoding one picture may take: 64 megapixels of four bytes."""

_FORMATS: Final = {MediaType.PNG: b"png", MediaType.JPEG: b"jpeg"}


def thumbnail(content: bytes, kind: MediaType, side: int = SIDE) -> QImage | None:
    """A picture no wider or higher than `side` pixels; None of another kind, or where it can't be read.

    Args:
        content: the file's bytes.
        kind: as found when it was added; no other reader is tried.
    """
    if kind not in _FORMATS:
        return None
    QImageReader.setAllocationLimit(_MOST_MB)
    buffer = QBuffer()
    buffer.setData(QByteArray(content))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(_FORMATS[kind]))
    reader.setDecideFormatFromContent(False)
    reader.setAutoTransform(True)
    size = reader.size()
    if not size.isValid():
        return None
    if size.width() > side or size.height() > side:
        reader.setScaledSize(
            size.scaled(QSize(side, side), Qt.AspectRatioMode.KeepAspectRatio).expandedTo(QSize(1, 1))
        )
    image = reader.read()
    return None if image.isNull() else image
