"""Numbers in cells: the value in its standard unit, or a doubt."""

import re
from dataclasses import dataclass

from estate.domain.phrases import phrase
from estate.intake.grid import Cell, is_blank
from estate.intake.values import Doubt, trouble_in
from estate.intake.words import Dimension, Unit, Words, fold

UPPER_BOUNDS = ("residual", "duration")
"""Dimensions of which "less than" is taken as that bound: more of them is never better."""
NIL = "residual"
"""The dimension in which words such as "nil" are a nought."""
DEGREE = "degree"
"""The unit of a degree sign alone, which does not say of which scale."""

_NUMBER = re.compile(r"([+-]?)([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*(.*)", re.DOTALL)
_GROUPED = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_FIRST_DIGIT = re.compile(r"[.,]?[0-9]")
_PER_MINUTE = "/min"
_LONGEST = 40
_LIKE = str.maketrans(
    {
        "º": "°",
        "˚": "°",
        "℃": "°c",
        "℉": "°f",
        "−": "-",
        "＜": "<",
        "≦": "≤",
        "\u00a0": " ",
        "\u202f": " ",
        "\u2009": " ",
    }
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number in its dimension's standard unit, and the unit it was written in.

    Attributes:
        own: whether the cell itself names the unit, and with it the scale.
        bound: whether the cell says "less than" this.
    """

    value: float
    unit: Unit | None
    own: bool = False
    bound: bool = False


def number(cell: Cell, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt | None:
    """The number a cell says.

    A residual flow or a time "less than" a bound is that bound: it errs on the safe side. Of anything else
    such a bound is no measurement and is asked about, as is any range or estimate. "Nil" is no flow; a trace
    or a drip is a flow that nobody measured, so neither nought nor a pass: it is asked about, and a person
    who answers "not measured" has its words kept as a remark.

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
    if dimension.name == NIL and (found := _in_words(cell, words)):
        return found
    return _written(cell.translate(_LIKE).strip(), unit, dimension, words)


def bare_number(cell: Cell, words: Words) -> float | None:
    """The number of a cell that names no scale of temperature; None where there is none or it names one."""
    if isinstance(cell, float):
        return cell
    if not isinstance(cell, str) or len(cell) > _LONGEST:
        return None
    match = _NUMBER.fullmatch(cell.translate(_LIKE).strip())
    if match is None:
        return None
    own = words.unit(match[3], "temperature") if match[3] else None
    if match[3] and (own is None or own.name != DEGREE):
        return None
    return float(match[1] + match[2].replace(",", "."))


def _in_words(cell: str, words: Words) -> Number | Doubt | None:
    if words.answered("nil", cell):
        return Number(0.0, None)
    if words.answered("trace", cell):
        return Doubt(
            "unreadable-value",
            phrase("Something passed that was not measured: enter ml/min, or take it as not measured."),
        )
    return None


def _written(text: str, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt:
    if len(text) > _LONGEST:
        return _not_a_number(dimension)
    match = _NUMBER.fullmatch(text)
    if match is not None:
        return _matched(match, unit, dimension, words)
    first = _FIRST_DIGIT.search(text)
    if first is None or dimension.name not in UPPER_BOUNDS:
        return _not_a_number(dimension)
    before, match = text[: first.start()], _NUMBER.fullmatch(text[first.start() :])
    if match is None or "-" in before or fold(before) not in words.answers["less_than"]:
        return _not_a_number(dimension)
    found = _matched(match, unit, dimension, words)
    if isinstance(found, Doubt):
        return found
    if found.value == 0:
        return _not_a_number(dimension)
    return Number(found.value, found.unit, found.own, bound=True)


def _matched(match: re.Match[str], unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt:
    sign, digits, rest = match.groups()
    own = _own_unit(rest, unit, dimension, words) if rest else None
    if rest and own is None:
        return _not_a_number(dimension)
    scaled = own is not None and own.name != DEGREE
    meant = own if scaled else unit or own
    value = float(sign + digits.replace(",", "."))
    grouped = _GROUPED.fullmatch(digits)
    if grouped and _plausible(float(digits.replace(",", "").replace(".", "")), meant, dimension):
        return Doubt(
            "unreadable-value",
            phrase("This may be thousands or decimals: write it without a thousands mark."),
        )
    found = _in_standard(value, meant, dimension, words)
    return found if isinstance(found, Doubt) else Number(found.value, found.unit, own=scaled)


def _own_unit(rest: str, unit: Unit | None, dimension: Dimension, words: Words) -> Unit | None:
    """The unit behind a number; "ml" alone is "ml/min" where the heading says that a minute is meant."""
    found = words.unit(rest, dimension.name)
    if found is None and unit is not None and unit.written[0].endswith(_PER_MINUTE):
        return words.unit(rest + _PER_MINUTE, dimension.name)
    return found


def _in_standard(value: float, unit: Unit | None, dimension: Dimension, words: Words) -> Number | Doubt:
    if unit is None and not dimension.assumed and value != 0:
        return Doubt(
            "unreadable-value",
            phrase(
                "Say the unit in the heading or the cell (such as {unit}).", unit=_usual(dimension, words)
            ),
        )
    if not _plausible(value, unit, dimension):
        limits = f"{dimension.lowest:g} to {dimension.highest:g} {_usual(dimension, words)}"
        return Doubt(
            "implausible-value",
            phrase(
                "No outlet can give this ({limits}): look at the unit and the number again.", limits=limits
            ),
        )
    return Number(unit.standard(value) if unit else value, unit)


def _plausible(value: float, unit: Unit | None, dimension: Dimension) -> bool:
    return dimension.lowest <= (unit.standard(value) if unit else value) <= dimension.highest


def _usual(dimension: Dimension, words: Words) -> str:
    return next(each.shown for each in words.units if each.name == dimension.standard)


def _not_a_number(dimension: Dimension) -> Doubt:
    return Doubt(
        "unreadable-value",
        phrase(
            "Write one number ({name}), or leave the cell empty if it was not measured.", name=dimension.name
        ),
    )
