"""Colours in light and dark: one accent, and tones for states from a colour-blind-safe set."""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtGui import QColor, QPalette


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
    def dark(self) -> bool:
        """Whether this is the dark scheme."""
        return self.name == "dark"


LIGHT = Shades(
    name="light",
    window="#f3f4f1",
    base="#ffffff",
    stripe="#f8f9f7",
    text="#1a2225",
    muted="#515d63",
    line="#d3d8d5",
    edge="#7c878c",
    accent="#0a5a78",
    on_accent="#ffffff",
    chosen="#cfe3ec",
    on_chosen="#10191c",
    tones={
        Tone.DANGER: "#9b1432",
        Tone.MEND: "#9c4300",
        Tone.LATE: "#6f5200",
        Tone.UNKNOWN: "#63399a",
        Tone.NOW: "#00588f",
        Tone.WATCH: "#2a6272",
        Tone.GOOD: "#006046",
        Tone.QUIET: "#59636a",
    },
)

DARK = Shades(
    name="dark",
    window="#161b1e",
    base="#1d2427",
    stripe="#21292c",
    text="#e9eded",
    muted="#aab6ba",
    line="#384449",
    edge="#84939a",
    accent="#74c3e0",
    on_accent="#0d1518",
    chosen="#243f50",
    on_chosen="#f4f8f9",
    tones={
        Tone.DANGER: "#ff93a3",
        Tone.MEND: "#ffad70",
        Tone.LATE: "#e7c566",
        Tone.UNKNOWN: "#cdaef4",
        Tone.NOW: "#86c8f6",
        Tone.WATCH: "#95ccd7",
        Tone.GOOD: "#78d6b3",
        Tone.QUIET: "#a7b1b6",
    },
)


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


def shades_of(palette: QPalette) -> Shades:
    """The scheme that a palette belongs to, judged by its ground."""
    return DARK if palette.color(QPalette.ColorRole.Base).lightness() < 128 else LIGHT


def palette_of(shades: Shades) -> QPalette:
    """The palette for every standard control."""
    role = QPalette.ColorRole
    parts = {
        role.Window: shades.window,
        role.Base: shades.base,
        role.AlternateBase: shades.stripe,
        role.WindowText: shades.text,
        role.Text: shades.text,
        role.ButtonText: shades.text,
        role.Button: shades.window,
        role.ToolTipBase: shades.base,
        role.ToolTipText: shades.text,
        role.PlaceholderText: shades.muted,
        role.Highlight: shades.chosen,
        role.HighlightedText: shades.on_chosen,
        role.Accent: shades.accent,
        role.Link: shades.accent,
        role.LinkVisited: shades.accent,
        role.Mid: shades.line,
        role.BrightText: shades.on_accent,
    }
    palette = QPalette(QColor(shades.window))
    for each, colour in parts.items():
        palette.setColor(each, QColor(colour))
    for each in (role.WindowText, role.Text, role.ButtonText):
        faint = blend(QColor(shades.muted), QColor(shades.window), 0.75)
        palette.setColor(QPalette.ColorGroup.Disabled, each, faint)
    return palette
