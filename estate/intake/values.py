"""What one cell says: a number in its standard unit, a yes or no, known words or codes; or a doubt."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from estate.intake.grid import Cell, Trouble, is_blank, shown, words_of
from estate.intake.words import Dimension, Unit, Words, fold

_NUMBER = re.compile(r"([+-]?)([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*(.*)", re.DOTALL)
_GROUPED = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_LONGEST = 40
_BETWEEN_CODES = re.compile(r"[\s,/;+]+")
_HYPHENS = str.maketrans(dict.fromkeys("‐‑‒–—−", "-"))
_LIKE = str.maketrans(
    {"º": "°", "˚": "°", "℃": "°c", "℉": "°f", "−": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "}
)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a cell was not taken, and what to do about it."""

    code: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Number:
    """A number in its dimension's standard unit, and the unit it was written in."""

    value: float
    unit: Unit | None


def trouble_in(cell: Cell) -> Doubt | None:
    """The doubt about a cell whose value the file does not hold, or None."""
    if not isinstance(cell, Trouble):
        return None
    if cell.code == "formula-without-value":
        return Doubt(
            cell.code,
            "Open the file in a spreadsheet program, let it calculate, save it, and bring it in again.",
        )
    return Doubt(cell.code, "The spreadsheet program shows an error here; enter the value itself.")


def number(cell: Cell, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt | None:
    """The number a cell says.

    Args:
        cell: its content.
        unit: the heading's unit; a unit in the cell goes before it.
        dimension: what the column measures.
        words: units and the words for "not measured".

    Returns:
        None where the cell is blank, a dash or says that nothing was measured; a doubt where it is not plain.
    """
    if is_blank(cell):
        return None
    if doubt := trouble_in(cell):
        return doubt
    if isinstance(cell, float):
        return _in_standard(cell, unit, dimension, words)
    if not isinstance(cell, str):
        return _not_a_number(dimension)
    if words.answered("absent", cell) or words.answered("dash", cell):
        return None
    return _written(cell.translate(_LIKE).strip(), unit, dimension, words)


def _written(text: str, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt:
    match = _NUMBER.fullmatch(text) if len(text) <= _LONGEST else None
    if match is None:
        return _not_a_number(dimension)
    sign, digits, rest = match.groups()
    own = words.unit(rest, dimension.name) if rest else unit
    if rest and own is None:
        return _not_a_number(dimension)
    value = float(sign + digits.replace(",", "."))
    grouped = _GROUPED.fullmatch(digits)
    if grouped and _plausible(float(digits.replace(",", "").replace(".", "")), own, dimension):
        return Doubt(
            "unreadable-value", "This may be thousands or decimals: write it without a thousands mark."
        )
    return _in_standard(value, own, dimension, words)


def _in_standard(value: float, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt:
    if unit is None and not dimension.assumed and value != 0:
        return Doubt(
            "unreadable-value",
            f"Say the unit in the heading or the cell (such as {_usual(dimension, words)}).",
        )
    if not _plausible(value, unit, dimension):
        limits = f"{dimension.lowest:g} to {dimension.highest:g} {_usual(dimension, words)}"
        return Doubt(
            "implausible-value", f"No outlet can give this ({limits}): look at the unit and the number again."
        )
    return Number(unit.standard(value) if unit else value, unit)


def _plausible(value: float, unit: Unit | None, dimension: Dimension) -> bool:
    return dimension.lowest <= (unit.standard(value) if unit else value) <= dimension.highest


def _usual(dimension: Dimension, words: Words) -> str:
    written = next(each.written[0] for each in words.units if each.name == dimension.standard)
    return written.replace("°c", "°C")


def _not_a_number(dimension: Dimension) -> Doubt:
    return Doubt(
        "unreadable-value",
        f"Write one number ({dimension.name}), or leave the cell empty if it was not measured.",
    )


def answer(cell: Cell, words: Words) -> bool | Doubt | None:
    """The yes or no a cell says; None where it is blank, a dash or says that it was not looked at."""
    return _either(cell, "yes", "no", words)


def fact(cell: Cell, words: Words) -> bool | Doubt | None:
    """Whether a cell says that something is there or is so; None as for `answer`.

    Words of condition, such as "pass", are doubted: strainers that failed are not strainers that are missing.
    """
    return _either(cell, "so", "not_so", words)


def _either(cell: Cell, yes: str, no: str, words: Words) -> bool | Doubt | None:
    if is_blank(cell) or isinstance(cell, bool):
        return cell if isinstance(cell, bool) else None
    if doubt := trouble_in(cell):
        return doubt
    text = shown(cell)
    if words.answered(yes, text) or words.answered(no, text):
        return words.answered(yes, text)
    if words.answered("absent", text) or words.answered("dash", text):
        return None
    return Doubt("unreadable-value", "Write yes or no, or leave the cell empty if it was not looked at.")


def choice(cell: Cell, kind: str, code: str, words: Words) -> str | Doubt | None:
    """Which of several values a cell names; None where it is blank."""
    if is_blank(cell):
        return None
    if doubt := trouble_in(cell):
        return doubt
    known = words.choices[kind]
    found = known.get(fold(words_of(cell)))
    return found or Doubt(code, f"Write one of: {', '.join(dict.fromkeys(known.values()))}.")


def codes(cell: Cell, known: Collection[str], words: Words) -> tuple[str, ...] | Doubt:
    """The codes a cell lists, each once, in capitals and in its order; none where it is blank or a dash.

    Args:
        cell: its content; codes stand apart by a comma, slash, semicolon, space or plus.
        known: every code there is.
        words: the words for "not recorded".
    """
    if doubt := trouble_in(cell):
        return doubt
    text = words_of(cell)
    if words.answered("absent", text) or words.answered("dash", text):
        return ()
    parts = _BETWEEN_CODES.split(text.translate(_HYPHENS).upper())
    found = tuple(dict.fromkeys(part for part in parts if part))
    if (text and not found) or not set(found) <= set(known):
        remedy = f"Write codes out of {', '.join(known)}, or leave the cell empty."
        return Doubt("unreadable-value", f"{remedy} If the column holds something else, rename its heading.")
    return found
