"""Texts of workbooks of the old form: one byte or two a letter, and carried on over records."""

from collections.abc import Sequence

from estate.domain.phrases import phrase
from estate.intake.package import MOST_CELLS, too_big

_WIDE, _ASIAN, _RICH = 1, 4, 8
_LEAST_BYTES = 3
_UNSEEN = dict.fromkeys({*range(32)} - {9, 10})


def text_at(data: bytes, at: int, count_bytes: int) -> str:
    """A text with its length before it.

    Args:
        data: the record.
        at: where the length stands.
        count_bytes: how many bytes the length takes, one or two.
    """
    letters = int.from_bytes(data[at : at + count_bytes], "little")
    at += count_bytes
    if letters and at >= len(data):
        raise ValueError("a text without its letters")
    wide = bool(data[at] & _WIDE) if at < len(data) else False
    return _decoded(data[at + 1 : at + 1 + letters * (1 + wide)], wide)


def shared_strings(records: Sequence[bytes], file: str) -> list[str]:
    """The texts that cells share.

    Args:
        records: the record that holds them and those that carry it on.
        file: the workbook's name, for faults.

    Raises:
        IntakeFault: there are too many.
        ValueError: the last one is cut off.
    """
    count = int.from_bytes(records[0][4:8], "little")
    cursor = _Cursor([records[0][8:], *records[1:]])
    found: list[str] = []
    while len(found) < count and cursor.has_more():
        if len(found) == MOST_CELLS:
            raise too_big(file, phrase("more than {most_cells:,} texts", most_cells=MOST_CELLS))
        found.append(cursor.text())
    return found


def _decoded(letters: bytes, wide: bool) -> str:
    text = letters.decode("utf-16-le" if wide else "latin-1", "replace")
    return text if text.isprintable() else text.translate(_UNSEEN)


class _Cursor:
    """Where one is in texts that several records hold."""

    def __init__(self, records: Sequence[bytes]) -> None:
        self._records = records
        self._record = 0
        self._at = 0

    def has_more(self) -> bool:
        while self._record < len(self._records) and self._at >= len(self._records[self._record]):
            self._record += 1
            self._at = 0
        return self._record < len(self._records)

    def text(self) -> str:
        letters = self._number(2)
        signs = self._number(1)
        runs = self._number(2) if signs & _RICH else 0
        extra = self._number(4) if signs & _ASIAN else 0
        text = self._letters(letters, bool(signs & _WIDE))
        self._pass(runs * 4 + extra)
        return text

    def _letters(self, left: int, wide: bool) -> str:
        pieces = []
        while left:
            record = self._records[self._record]
            if self._at >= len(record):
                # A text carried on says anew how wide its letters are.
                self._next()
                wide = bool(self._number(1) & _WIDE)
                continue
            width = 1 + wide
            whole = min(left, (len(record) - self._at) // width)
            if not whole:
                raise ValueError("half a letter")
            pieces.append(_decoded(record[self._at : self._at + whole * width], wide))
            self._at += whole * width
            left -= whole
        return "".join(pieces)

    def _number(self, width: int) -> int:
        if not self.has_more():
            raise ValueError("a text is cut off")
        found = self._records[self._record][self._at : self._at + width]
        self._at += width
        return int.from_bytes(found, "little")

    def _pass(self, left: int) -> None:
        while left and self.has_more():
            passed = min(left, len(self._records[self._record]) - self._at)
            self._at += passed
            left -= passed

    def _next(self) -> None:
        self._record += 1
        self._at = 0
        if self._record >= len(self._records):
            raise ValueError("a text is cut off")
