"""Puts blocks on the pages of a reportlab canvas."""

from functools import cache
from pathlib import Path

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas

from estate.reports.document import Document
from estate.reports.pdf.ink import MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Block, Box, Entry, Shape, Style, Words
from estate.reports.pdf.lettering import load_faces
from estate.reports.pdf.shapes import draw_shape


@cache
def _colour(value: int) -> Color:
    return HexColor(value)


class Pen:
    """Draws one document; the same document gives the same bytes."""

    def __init__(self, path: Path, document: Document) -> None:
        load_faces()
        size = (PAGE_WIDTH, PAGE_HEIGHT)
        self._canvas = Canvas(str(path), pagesize=size, pageCompression=1, invariant=1, lang="en-GB")
        self._canvas.setTitle(f"{document.title}: {document.register}")
        self._canvas.setSubject(document.basis)
        self._canvas.setAuthor(document.register)
        self._canvas.setCreator("Estate register")
        self._canvas.setViewerPreference("DisplayDocTitle", "true")
        self._words: list[tuple[float, float, str, Style]] = []
        self._entries = 0

    def put(self, block: Block, down: float) -> None:
        """Put a block on the page, its top `down` points below the page's top edge."""
        top = PAGE_HEIGHT - down
        for stroke in block.strokes:
            match stroke:
                case Words(x, foot, text, style):
                    self._words.append((MARGIN + x, top - foot, text, style))
                case Box(x, upper, width, height, colour):
                    self._canvas.setFillColor(_colour(colour))
                    self._canvas.rect(MARGIN + x, top - upper - height, width, height, stroke=0, fill=1)
                case Shape(x, upper, mark):
                    draw_shape(self._canvas, mark, MARGIN + x, top - upper)
        if block.entry is not None:
            self._enter(block.entry, top)

    def _enter(self, entry: Entry, top: float) -> None:
        self._entries += 1
        key = f"place-{self._entries}"
        self._canvas.bookmarkHorizontal(key, 0, top)
        self._canvas.addOutlineEntry(entry.title, key, entry.level, closed=entry.level > 0)

    def end_page(self) -> None:
        """Set the page's words in the order they are read in, over everything drawn, and turn the page."""
        text = self._canvas.beginText()
        now: Style | None = None
        for x, y, words, style in self._words:
            if style != now:
                text.setFont(style.face.value, style.size)
                text.setFillColor(_colour(style.colour))
                now = style
            text.setTextOrigin(x, y)
            text.textOut(words)
        self._canvas.drawText(text)
        self._words.clear()
        self._canvas.showPage()

    def save(self) -> None:
        """Write the file."""
        self._canvas.save()
