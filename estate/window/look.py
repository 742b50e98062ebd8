"""Light or dark: the palette, style sheet and drawings of the scheme in use."""

from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QByteArray, QObject, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QApplication

from estate.window.shades import DARK, LIGHT, Shades, palette_of
from estate.window.style import style_sheet


class Scheme(StrEnum):
    """What the person asked for."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Look(QObject):
    """Dresses the whole application.

    Args:
        application: what is dressed.
        template: the style sheet with ``@name@`` places.
        drawings: the folder of SVG drawings.

    Attributes:
        changed: the scheme in use changed.
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
        application.setStyle("Fusion")
        application.styleHints().colorSchemeChanged.connect(self._on_system_changed)

    def wear(self, scheme: Scheme) -> None:
        """Put on a scheme."""
        self.scheme = scheme
        self.shades = self._shades()
        self._application.setPalette(palette_of(self.shades))
        self._application.setStyleSheet(style_sheet(self._template, self.shades))
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
        if self.scheme is Scheme.SYSTEM:
            dark = self._application.styleHints().colorScheme() is Qt.ColorScheme.Dark
            return DARK if dark else LIGHT
        return DARK if self.scheme is Scheme.DARK else LIGHT

    def _on_system_changed(self) -> None:
        if self.scheme is Scheme.SYSTEM:
            self.wear(Scheme.SYSTEM)


def _larger(svg: str) -> str:
    return svg.replace("<svg ", '<svg width="80" height="80" ', 1)
