"""How the window looks: scheme and size of text; the palette, style sheet and drawings that follow."""

from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import QByteArray, QDir, QObject, Qt, Signal
from PySide6.QtGui import QFont, QIcon, QPixmap
from PySide6.QtWidgets import QApplication

from estate.window.schemes import CONTRAST_DARK, CONTRAST_LIGHT, DARK, LIGHT, field_palette_of, palette_of
from estate.window.shades import Shades
from estate.window.sizes import natural_font
from estate.window.style import style_sheet


class Scheme(StrEnum):
    """What the person asked for."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST_LIGHT = "contrast-light"
    CONTRAST_DARK = "contrast-dark"


_WORN: Final = {
    Scheme.LIGHT: LIGHT,
    Scheme.DARK: DARK,
    Scheme.CONTRAST_LIGHT: CONTRAST_LIGHT,
    Scheme.CONTRAST_DARK: CONTRAST_DARK,
}
PERCENTS: Final = (100, 125, 150, 200)
"""Sizes that text can have, of its natural size."""
_DRAWN: Final = 160
"""Side of a drawing, device pixels: sharp at 200 % on a screen of two device pixels a logical one."""


class Look(QObject):
    """Dresses the whole application.

    Args:
        application: what is dressed.
        template: the style sheet with ``@name@`` places.
        drawings: the folder of SVG drawings.

    Attributes:
        changed: the scheme in use or the size of the text changed.
    """

    changed = Signal()

    def __init__(
        self, application: QApplication, template: str, drawings: Path, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._application = application
        self._template = template
        self._drawings = drawings
        self.scheme = Scheme.SYSTEM
        self.shades: Shades = LIGHT
        self.percent = PERCENTS[0]
        application.setStyle("Fusion")
        QDir.setSearchPaths("drawings", [str(drawings)])
        application.styleHints().colorSchemeChanged.connect(self._on_system_changed)
        hints = application.styleHints().accessibility()
        hints.contrastPreferenceChanged.connect(self._on_system_changed)

    def wear(self, scheme: Scheme) -> None:
        """Put on a scheme."""
        self.scheme = scheme
        self._dress()

    def size_text(self, percent: int) -> None:
        """Give text a size, of its natural one; what is none of `PERCENTS` takes the natural one."""
        self.percent = percent if percent in PERCENTS else PERCENTS[0]
        self._dress()

    def _dress(self) -> None:
        self.shades = self._shades()
        font = QFont(natural_font())
        growth = self.percent / 100
        font.setPointSizeF(font.pointSizeF() * growth)
        if self._application.font() != font:
            self._application.setFont(font)
        self._application.setPalette(palette_of(self.shades))
        fields: Any = ("QComboBox", "QAbstractSpinBox")  # text is taken, though the stub says bytes
        for kind in fields:
            self._application.setPalette(field_palette_of(self.shades), kind)
        self._application.setStyleSheet(style_sheet(self._template, self.shades, growth))
        self.changed.emit()

    def drawing(self, name: str) -> QIcon:
        """A drawing in the colour of the text."""
        text = (self._drawings / f"{name}.svg").read_text(encoding="utf-8")
        icon = QIcon()
        for mode, colour in (
            (QIcon.Mode.Normal, self.shades.accent),
            (QIcon.Mode.Disabled, self.shades.edge),
        ):
            picture = QPixmap()
            picture.loadFromData(QByteArray(_larger(text).replace("currentColor", colour).encode()), "SVG")
            picture.setDevicePixelRatio(4)
            icon.addPixmap(picture, mode)
        return icon

    def _shades(self) -> Shades:
        if self.scheme is not Scheme.SYSTEM:
            return _WORN[self.scheme]
        hints = self._application.styleHints()
        dark = hints.colorScheme() is Qt.ColorScheme.Dark
        if hints.accessibility().contrastPreference() is Qt.ContrastPreference.HighContrast:
            return CONTRAST_DARK if dark else CONTRAST_LIGHT
        return DARK if dark else LIGHT

    def _on_system_changed(self) -> None:
        if self.scheme is Scheme.SYSTEM:
            self._dress()


def _larger(svg: str) -> str:
    return svg.replace("<svg ", f'<svg width="{_DRAWN}" height="{_DRAWN}" ', 1)
