"""A report as pages of paper: its bytes, its pages as pictures, its words."""

from contextlib import closing
from dataclasses import dataclass
from threading import Lock
from typing import Any, Final

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QImage

POINTS_AN_INCH: Final = 72.0
_ONE_AT_A_TIME = Lock()
"""The library that draws may be asked by one thread at a time."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page: its number from 0 and its size in points (1/72 inch)."""

    number: int
    wide_pt: float
    high_pt: float

    @property
    def lies(self) -> bool:
        """Whether it is wider than high."""
        return self.wide_pt > self.high_pt

    @property
    def size_pt(self) -> QSizeF:
        """Its size in points."""
        return QSizeF(self.wide_pt, self.high_pt)


class Paper:
    """A PDF file that the program wrote.

    Args:
        content: its bytes, which are what is saved too.
    """

    def __init__(self, content: bytes) -> None:
        import pypdfium2  # type: ignore[import-untyped]  # noqa: PLC0415 - it bears no types; few preview

        self.content = content
        with _ONE_AT_A_TIME:
            self._document: Any = pypdfium2.PdfDocument(content)
            sizes = [self._document.get_page_size(number) for number in range(len(self._document))]
        self.sheets: tuple[Sheet, ...] = tuple(Sheet(number, *size) for number, size in enumerate(sizes))

    def drawn(self, number: int, dots_an_inch: float) -> QImage:
        """A page as a picture on white; may run in the worker.

        Args:
            number: of the page, from 0.
            dots_an_inch: how finely.
        """
        with _ONE_AT_A_TIME, closing(self._document[number]) as page:
            with closing(page.render(scale=dots_an_inch / POINTS_AN_INCH, prefer_bgrx=True)) as found:
                held = bytes(found.buffer)
                shape = (found.width, found.height, found.stride)
            return QImage(held, *shape, QImage.Format.Format_RGB32).copy()

    def words(self, number: int) -> str:
        """The words of a page, from 0."""
        with _ONE_AT_A_TIME, closing(self._document[number]) as page, closing(page.get_textpage()) as found:
            return str(found.get_text_range())

    def close(self) -> None:
        """Give back the memory that the pages take; nothing is drawn afterwards."""
        with _ONE_AT_A_TIME:
            self._document.close()
