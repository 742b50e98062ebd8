"""Lines on the clipboard, for a spreadsheet: as text with tabs and as a table."""

from collections.abc import Iterable, Sequence
from datetime import date
from html import escape

from PySide6.QtCore import QMimeData, QStringListModel

from estate.domain.neutral import neutral
from estate.domain.shown_list import ShownCell


def copied(titles: Sequence[str], rows: Iterable[Sequence[ShownCell]]) -> QMimeData:
    """Lines under their headings, in both forms.

    Numbers and days (as 2026-11-25) are told so that a spreadsheet takes them for what they are. Words that
    one could take for a formula get an apostrophe before them.
    """
    lines = [[_plain(title) for title in titles], *([_told(cell) for cell in row] for row in rows)]
    made = _nothing()
    made.setText("".join("\t".join(line) + "\n" for line in lines))
    head, *body = lines
    made.setHtml(f"<table>{_row(head, 'th')}{''.join(_row(line, 'td') for line in body)}</table>")
    return made


def _nothing() -> QMimeData:
    """An empty piece for the clipboard, made by Qt: one made here can't be freed once Python has ended."""
    model = QStringListModel([""])
    made = model.mimeData([model.index(0)])
    for form in made.formats():
        made.removeFormat(form)
    return made


def _told(cell: ShownCell) -> str:
    if isinstance(cell.value, date):
        return cell.value.isoformat()
    if cell.value is not None:
        return repr(cell.value) if cell.decimals is None else f"{cell.value:.{cell.decimals}f}"
    return _plain(cell.words)


def _plain(words: str) -> str:
    """Words in one cell, whatever breaks they hold."""
    return neutral(" ".join(words.split()))


def _row(cells: Iterable[str], tag: str) -> str:
    return f"<tr>{''.join(f'<{tag}>{escape(each)}</{tag}>' for each in cells)}</tr>"
