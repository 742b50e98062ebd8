"""A file dropped from the desktop."""

from pathlib import Path

from PySide6.QtCore import QMimeData

_KINDS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".csv", ".tsv", ".txt")


def sheet_dropped(data: QMimeData) -> Path | None:
    """The one sheet that is being dropped, or None."""
    paths = [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
    sheets = [path for path in paths if path.suffix.casefold() in _KINDS]
    return sheets[0] if len(sheets) == 1 == len(paths) else None
