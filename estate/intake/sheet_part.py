"""What the reader of workbooks leaves unsaid of a sheet: how far it reaches, its troubles, what is hidden."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from xml.parsers import expat

from estate.domain.phrases import phrase
from estate.intake.grid import Trouble
from estate.intake.package import MOST_COLUMNS, check_size, damaged

_CELLS = b"sheetData"
_ODD = re.compile(rb"<c(?! r=\"A?[A-Z][0-9]{1,5}\"(?: (?:s|t)=\"[0-9a-zA-Z]*\")*/?>)")
_ODD_SIGNS = ((b":", b":c"), (b"!", b"<!"), (b"?", b"<?"))
_NO_VALUE = re.compile(rb"(?:f\s*>|/>)\s*(?:</(?:[\w.-]+:)?c\s*>|<(?:[\w.-]+:)?v(?:\s[^<>]*)?(?:/>|>\s*<))")
_ZERO = re.compile(rb"(?:f\s*>|/>)\s*<(?:[\w.-]+:)?v[^<>]*>\s*-?[0.]+\s*<")
_REFERENCE = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")


@dataclass(frozen=True, slots=True)
class PartFacts:
    """What is known of a sheet besides the values.

    Attributes:
        troubles: by 0-based row and column, the cells whose value the file does not hold.
    """

    troubles: Mapping[tuple[int, int], Trouble]
    hidden_rows: frozenset[int]
    hidden_columns: frozenset[int]


NOTHING = PartFacts({}, frozenset(), frozenset())


def holds_cells(part: bytes) -> bool:
    """Whether a part is one sheet's cells."""
    return _CELLS in part


def facts_of(part: bytes, file: str, stale: bool) -> PartFacts:
    """What is known of a sheet besides the values.

    A look at the bytes settles most sheets; only where it can't is the part read element by element.

    Args:
        part: the sheet as the workbook has it.
        file: the workbook's name, for faults.
        stale: whether the workbook says that its formulas are yet to be worked out.

    Raises:
        IntakeFault: the sheet is no XML, or has a cell so far out that a grid would fill the memory.
    """
    if _is_near(part) and b"hidden" not in part and not _may_have_troubles(part, stale):
        return NOTHING
    listener = _Listener(file, stale)
    try:
        listener.parser.Parse(part, True)
    except (expat.ExpatError, ValueError) as fault:
        raise damaged(file, str(fault)) from fault
    return PartFacts(listener.troubles, frozenset(listener.hidden_rows), frozenset(listener.hidden_columns))


def _is_near(part: bytes) -> bool:
    """Whether it is plain from the bytes that every cell has a name, and none is beyond AZ99999."""
    start, end = part.find(_CELLS), part.rfind(_CELLS)
    for sign, odd in _ODD_SIGNS:
        # A single byte is sought several times faster than two.
        if part.find(sign, start, end) >= 0 and part.find(odd, start, end) >= 0:
            return False
    return _ODD.search(part, start, end) is None


def _may_have_troubles(part: bytes, stale: bool) -> bool:
    if b'"e"' in part or (b"'" in part and b"'e'" in part):
        return True
    if b"<f" not in part and not (part.find(b":", part.find(_CELLS)) >= 0 and b":f" in part):
        return False
    return bool(_NO_VALUE.search(part) or (stale and _ZERO.search(part)))


class _Listener:
    """Hears a sheet's elements and keeps a cell at a time, so that no tree fills the memory."""

    def __init__(self, file: str, stale: bool) -> None:
        self.troubles: dict[tuple[int, int], Trouble] = {}
        self.hidden_rows: set[int] = set()
        self.hidden_columns: set[int] = set()
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self._file = file
        self._stale = stale
        self._row = self._column = -1
        self._last = self._widest = 0
        self._place = (0, 0)
        self._kind = ""
        self._heard: dict[str, str] = {}
        self._open = ""

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        match name.rpartition(":")[2]:
            case "c":
                self._begin_cell(attributes)
            case "f" | "v" as part:
                self._open = part
                self._heard[part] = ""
                self.parser.CharacterDataHandler = self._text
            case "row":
                self._row = int(attributes["r"]) - 1 if "r" in attributes else self._row + 1
                self._column = -1
                if _is_true(attributes):
                    self.hidden_rows.add(self._row)
            case "col" if _is_true(attributes):
                first, last = int(attributes.get("min", 1)), int(attributes.get("max", 1))
                self.hidden_columns |= set(range(max(first - 1, 0), min(last, MOST_COLUMNS)))

    def _begin_cell(self, attributes: dict[str, str]) -> None:
        row, column = self._row, self._column + 1
        if "r" in attributes:
            named = _REFERENCE.fullmatch(attributes["r"])
            if named is None:
                raise damaged(self._file, phrase("“{cell}” is no name of a cell", cell=attributes["r"][:30]))
            row, column = int(named[2]) - 1, _column(named[1])
        self._place, self._column = (row, column), column
        self._kind = attributes.get("t", "n")
        self._heard = {}
        if row >= self._last or column >= self._widest:
            self._last, self._widest = max(self._last, row + 1), max(self._widest, column + 1)
            check_size(self._last, self._widest, self._file)

    def _text(self, text: str) -> None:
        self._heard[self._open] += text

    def _end(self, name: str) -> None:
        match name.rpartition(":")[2]:
            case "f" | "v":
                self.parser.CharacterDataHandler = None
            case "c":
                trouble = _trouble(self._kind, self._heard, self._stale)
                if trouble:
                    self.troubles[self._place] = trouble


def _trouble(kind: str, heard: Mapping[str, str], stale: bool) -> Trouble | None:
    value = heard.get("v", "").strip()
    if kind == "e":
        return Trouble("unreadable-value", value or "error")
    if "f" not in heard or kind == "inlineStr":
        return None
    # Programs that don't work formulas out write nothing or a nought in the place of a value.
    if (not value and kind != "str") or (stale and kind == "n" and not value.strip("-0.")):
        return Trouble("formula-without-value", f"={heard['f']}")
    return None


def _is_true(attributes: Mapping[str, str]) -> bool:
    return attributes.get("hidden") in ("1", "true")


def _column(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1
