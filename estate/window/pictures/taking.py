"""Takes pictures and keeps them small: few colours, and no loss beside that."""

from collections import Counter
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QImageWriter

from estate.errors import ReportFault
from estate.window.pictures.stage import Scene, Stage, close_all, settle
from estate.window.schemes import shades_of
from estate.window.shades import Tone

_COLOURS: Final = 256
_LOSSLESS: Final = {"png": 0, "webp": 100}
"""Quality by the ending of a file: of PNG the hardest packing, of WebP no loss."""


def take(stage: Stage, scene: Scene, to: Path) -> Path:
    """Take one picture, and close the dialogs that the scene opened.

    Args:
        to: ends in ``.png`` or ``.webp``.

    Raises:
        ReportFault: it can't be written.
    """
    shown = scene(stage)
    settle()
    states = [shades_of(shown.palette()).tone(tone).rgb() for tone in Tone]
    picture = with_few_colours(shown.grab().toImage(), states)
    to.parent.mkdir(parents=True, exist_ok=True)
    ending = to.suffix.removeprefix(".")
    writer = QImageWriter(str(to), ending.encode())
    writer.setQuality(_LOSSLESS[ending])
    if not writer.write(picture if ending == "png" else picture.convertToFormat(QImage.Format.Format_RGB32)):
        raise ReportFault("A picture can't be written", f"{to}.", "Choose a folder that can be written to.")
    close_all(stage)
    return to


def with_few_colours(image: QImage, kept: list[int]) -> QImage:
    """The image in few colours: those to be kept, and its own most frequent ones."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    counted = Counter(memoryview(plain.constBits()).cast("I"))
    colours = [*kept, *(colour for colour, _ in counted.most_common(_COLOURS - len(kept)))]
    nearest = Qt.ImageConversionFlag.ThresholdDither | Qt.ImageConversionFlag.AvoidDither
    return plain.convertToFormat(QImage.Format.Format_Indexed8, colours, nearest)
