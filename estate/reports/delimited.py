"""Writes a list of the window as delimited text: one line of headings, then one line a row."""

import csv
from collections.abc import Iterable
from datetime import date
from pathlib import Path

from estate.domain.neutral import neutral
from estate.domain.register import AsAt
from estate.domain.shown_list import ShownCell, ShownList
from estate.reports.replacing import replacing


def write_delimited(shown: ShownList, as_at: AsAt, path: Path) -> Path:
    """Write a list as CSV (UTF-8 with its mark, comma, days as 2026-11-25), whole or not at all.

    Words that a spreadsheet program would take for a formula get an apostrophe before them. The last
    columns say of which day, and for a past register of which moment's knowledge, each row speaks.

    Raises:
        ReportFault: the file can't be written.
    """
    after = [("as at", as_at.today.isoformat())]
    if as_at.known_at is not None:
        after.append(("as known at (UTC)", as_at.known_at.isoformat(timespec="minutes")))
    before = [shown.grouped_by] if shown.grouped_by else []
    titles = [*before, *(column.title for column in shown.columns), *(title for title, _ in after)]
    with replacing(path) as written, written.open("w", encoding="utf-8-sig", newline="") as stream:
        lines = csv.writer(stream)
        lines.writerow(neutral(title) for title in titles)
        for group in shown.groups:
            place = [neutral(group.words)] if shown.grouped_by else []
            lines.writerows([*place, *_told(row), *(said for _, said in after)] for row in group.rows)
    return path


def _told(row: Iterable[ShownCell]) -> list[str]:
    return [_words(cell) for cell in row]


def _words(cell: ShownCell) -> str:
    if isinstance(cell.value, date):
        return cell.value.isoformat()
    if cell.value is not None:
        return repr(cell.value) if cell.decimals is None else f"{cell.value:.{cell.decimals}f}"
    return neutral(cell.words)
