"""Colours of a scheme: one accent, and tones for states from a colour-blind-safe set."""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtGui import QColor


class Tone(StrEnum):
    """What a colour stands for; a shape and a word always stand beside it."""

    DANGER = "danger"
    MEND = "mend"
    LATE = "late"
    UNKNOWN = "unknown"
    NOW = "now"
    WATCH = "watch"
    GOOD = "good"
    QUIET = "quiet"


@dataclass(frozen=True)
class Shades:
    """One scheme's colours as #rrggbb."""

    name: str
    window: str
    base: str
    stripe: str
    text: str
    muted: str
    line: str
    edge: str
    accent: str
    on_accent: str
    chosen: str
    on_chosen: str
    tones: dict[Tone, str]

    def tone(self, tone: Tone) -> QColor:
        """The colour of a tone, legible on window, base and tint."""
        return QColor(self.tones[tone])

    def tint(self, tone: Tone) -> QColor:
        """A pale ground of the tone, on which its own colour is legible."""
        return blend(QColor(self.tones[tone]), QColor(self.base), 0.10)

    @property
    def stark(self) -> bool:
        """Whether the contrast is high: marks are outlined, and nothing is told by a pale ground."""
        return self.base == self.window

    @property
    def outline(self) -> QColor | None:
        """What marks are outlined with, where they are."""
        return QColor(self.text) if self.stark else None


def blend(over: QColor, under: QColor, share: float) -> QColor:
    """Lay `share` (0 to 1) of one colour over another."""
    return QColor(
        round(over.red() * share + under.red() * (1 - share)),
        round(over.green() * share + under.green() * (1 - share)),
        round(over.blue() * share + under.blue() * (1 - share)),
    )


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, relative luminance)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: QColor) -> float:
    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
