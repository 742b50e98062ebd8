"""The report's typeface: what it can draw, how wide words are, where lines break."""

import re
import unicodedata
from functools import cache, lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from estate.assets import resource
from estate.reports.pdf.ink import Face, Style

_FILES = {Face.PLAIN: "RobotoCondensed-Regular.ttf", Face.BOLD: "RobotoCondensed-Bold.ttf"}
_MISSING = "\N{REPLACEMENT CHARACTER}"
_AFTER_BREAK = re.compile(r"(?<=[/\-_.,;:·])")


@cache
def load_faces() -> dict[Face, dict[int, float]]:
    """Make the faces known to reportlab once; the width of each character, in thousandths of the size."""
    widths = {}
    for face, file in _FILES.items():
        font = TTFont(face.value, str(resource("fonts", file)))
        pdfmetrics.registerFont(font)
        drawn = font.face.charWidths
        widths[face] = {code: float(drawn[code]) for code in font.face.charToGlyph if code in drawn}
    return widths


@lru_cache(maxsize=50_000)
def printable(text: str) -> str:
    """The text as the typeface can draw it: composed, without control characters, no glyph silently lost."""
    known = load_faces()[Face.PLAIN]
    kept = []
    for character in unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\t", " ")):
        if character == "\n" or (ord(character) in known and character.isprintable()):
            kept.append(character)
        elif unicodedata.category(character) not in ("Cc", "Cf"):
            kept.append(" " if character.isspace() else _MISSING)
    return "".join(kept)


def width_of(text: str, style: Style) -> float:
    """Width of printable words, points."""
    widths = load_faces()[style.face]
    return sum(widths[ord(character)] for character in text) * style.size / 1000


@lru_cache(maxsize=50_000)
def lines_of(text: str, style: Style, width: float) -> tuple[str, ...]:
    """Break a text into lines no wider than `width` points; empty text has no lines."""
    lines: list[str] = []
    for paragraph in printable(text).split("\n"):
        lines.extend(_filled(paragraph, style, width))
    return tuple(lines)


def _filled(paragraph: str, style: Style, width: float) -> list[str]:
    lines: list[str] = []
    line = ""
    for word in paragraph.split():
        joined = f"{line} {word}" if line else word
        if width_of(joined, style) <= width:
            line = joined
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, style, width)
        lines.extend(whole)
    return [*lines, line] if line else lines


def _broken(word: str, style: Style, width: float) -> list[str]:
    """Break a word that is wider than a line: after punctuation if it can be, else anywhere."""
    pieces, piece = [], ""
    for part in _AFTER_BREAK.split(word):
        if width_of(piece + part, style) <= width:
            piece += part
            continue
        if piece:
            pieces.append(piece)
        *whole, piece = _anywhere(part, style, width)
        pieces.extend(whole)
    return [*pieces, piece]


def _anywhere(part: str, style: Style, width: float) -> list[str]:
    pieces, piece = [], ""
    for character in part:
        if piece and width_of(piece + character, style) > width:
            pieces.append(piece)
            piece = ""
        piece += character
    return [*pieces, piece]


def elided(text: str, most: int) -> str:
    """A text cut to at most so many characters, showing that it was cut."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def elided_to(text: str, style: Style, width: float) -> str:
    """One line no wider than `width` points, showing where it was cut."""
    line = printable(text).replace("\n", " ")
    if width_of(line, style) <= width:
        return line
    while line and width_of(line + "…", style) > width:
        line = line[:-1]
    return line.rstrip() + "…"
