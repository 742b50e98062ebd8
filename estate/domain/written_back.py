"""What tells the sheets that this register added to somebody's workbook from that person's own."""

QUESTIONS_MARK = "Questions about this file, written by the valve register"
"""Begins the first cell of each added sheet; intake leaves such sheets unread."""


def is_added(first_cell: str) -> bool:
    """Whether a sheet with this text in its first cell is one that this register added."""
    return " ".join(first_cell.split()).startswith(QUESTIONS_MARK)
