"""The colours of each scheme: light, dark, and one of high contrast of either kind."""

from typing import Final

from PySide6.QtGui import QColor, QPalette

from estate.window.shades import Shades, Tone, blend

LIGHT: Final = Shades(
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

DARK: Final = Shades(
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
        Tone.DANGER: "#ff8c9d",
        Tone.MEND: "#ffad70",
        Tone.LATE: "#e7c566",
        Tone.UNKNOWN: "#cdaef4",
        Tone.NOW: "#86c8f6",
        Tone.WATCH: "#95ccd7",
        Tone.GOOD: "#84e2bf",
        Tone.QUIET: "#a7b1b6",
    },
)

CONTRAST_LIGHT: Final = Shades(
    name="contrast-light",
    window="#ffffff",
    base="#ffffff",
    stripe="#ffffff",
    text="#000000",
    muted="#2b3033",
    line="#5c6468",
    edge="#000000",
    accent="#00405c",
    on_accent="#ffffff",
    chosen="#dceaf2",
    on_chosen="#000000",
    tones={
        Tone.DANGER: "#75081f",
        Tone.MEND: "#6e2e00",
        Tone.LATE: "#4d3900",
        Tone.UNKNOWN: "#4b2480",
        Tone.NOW: "#003c6b",
        Tone.WATCH: "#17444f",
        Tone.GOOD: "#005238",
        Tone.QUIET: "#3b4348",
    },
)

CONTRAST_DARK: Final = Shades(
    name="contrast-dark",
    window="#000000",
    base="#000000",
    stripe="#000000",
    text="#ffffff",
    muted="#dfe6e8",
    line="#899399",
    edge="#ffffff",
    accent="#8fdcff",
    on_accent="#000000",
    chosen="#0f3044",
    on_chosen="#ffffff",
    tones={
        Tone.DANGER: "#ffa0ae",
        Tone.MEND: "#ffc08f",
        Tone.LATE: "#f2d680",
        Tone.UNKNOWN: "#dcc6fa",
        Tone.NOW: "#a6d8fb",
        Tone.WATCH: "#abdde6",
        Tone.GOOD: "#aef7da",
        Tone.QUIET: "#c6ced2",
    },
)

ALL: Final = (LIGHT, DARK, CONTRAST_LIGHT, CONTRAST_DARK)


def shades_of(palette: QPalette) -> Shades:
    """The scheme that a palette belongs to, judged by its lines; by its ground where it is another's."""
    ground, lines = palette.color(QPalette.ColorRole.Base), palette.color(QPalette.ColorRole.Mid)
    usual = DARK if ground.lightness() < 128 else LIGHT
    return next((each for each in ALL if QColor(each.line) == lines), usual)


_DARKER: Final = 1.4
"""By how much the style darkens the ground that it is told, for the outline of a choice or a count."""


def field_palette_of(shades: Shades) -> QPalette:
    """The palette for choices, days and counts, whose outlines would else be too faint (WCAG 2.2, 1.4.11)."""
    palette = palette_of(shades)
    edge = QColor(shades.edge)
    parts = (edge.red(), edge.green(), edge.blue())
    told = QColor(*(min(255, round(part * _DARKER)) for part in parts))
    palette.setColor(QPalette.ColorRole.Window, told)
    return palette


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
