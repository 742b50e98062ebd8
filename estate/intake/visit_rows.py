"""Rows of results: each a visit, or questions about it."""

from typing import Any

from estate.domain.intake import VisitRow
from estate.domain.visits import Isolation, Readings, VisitKind, measured
from estate.intake.dates import DateOrder
from estate.intake.facts import Facts
from estate.intake.grid import Cell, is_blank, shown
from estate.intake.row_reader import RowReader
from estate.intake.values import Doubt
from estate.intake.words import Words, fold

_MIXED = ("found_c", "left_c", "adjusted")
_NO_ACCESS = Doubt("no-access", "Nothing was measured: plan another visit.")
_NOTHING = Doubt("nothing-measured", "Enter what was measured, or leave the row out of the sheet.")
_SAME_AS_WHAT = Doubt(
    "unreadable-value", "There is no as-found temperature to be the same as: enter the number."
)
_CONTRADICTION = Doubt(
    "contradiction", "As found and as left differ but it says not adjusted: correct one of them."
)
_NO_REFERENCE = Doubt("missing-reference", "Enter the outlet's reference.")
_NO_DATE = Doubt("missing-date", "Enter the day of the visit, such as 17 Oct 2026.")


def read_visit(reader: RowReader, file: str, facts: Facts, order: DateOrder, words: Words) -> VisitRow | None:
    """Read one row of results.

    Args:
        reader: the row; its questions say why the row was not taken.
        file: the file's name.
        facts: what the lines around the table say.
        order: the order of the dates in the whole column.
        words: the words of answers.

    Returns:
        The visit, or None where the reader has questions.
    """
    if field := _no_access_field(reader, words):
        reader.ask(field, _NO_ACCESS)
        return None
    reader.check_texts()
    on = reader.date("on", order)
    if on is None and is_blank(reader.row.cell("on")):
        reader.ask("on", _NO_DATE)
    reference = reader.text("reference")
    if not reference:
        reader.ask("reference", _NO_REFERENCE)
    kind = _kind(reader, facts)
    readings = _readings(reader, words)
    if not reader.questions and not measured(readings):
        reader.ask("reference", _NOTHING)
    if reader.questions or on is None:
        return None
    return VisitRow(
        source=reader.row.source(file),
        reference=reference,
        kind=kind,
        on=on,
        readings=readings,
        person=reader.text("person") or facts.person,
        instrument=reader.text("instrument") or facts.instrument,
        remarks=reader.text("remarks"),
        cells=reader.row.places(),
    )


def _kind(reader: RowReader, facts: Facts) -> VisitKind:
    said = reader.choice("kind", "unreadable-value")
    return VisitKind(said) if said else facts.kind or VisitKind.IN_SERVICE


def _no_access_field(reader: RowReader, words: Words) -> str | None:
    """The field whose cell says that nobody could get at the valve."""
    names = reader.row.table.data_fields
    for name in names:
        cell = reader.row.cell(name)
        if isinstance(cell, str) and _begins_with_no_access(cell, words):
            return name
    measures = [name for name in names if name not in ("on", "kind")]
    said = f" {fold(reader.text('remarks'))} "
    told = any(f" {phrase} " in said for phrase in words.answers["no_access"]) if said.strip() else False
    if told and all(_says_nothing(reader.row.cell(name), words) for name in measures):
        return "remarks"
    return None


def _begins_with_no_access(text: str, words: Words) -> bool:
    folded = fold(text)
    pieces = folded.split()
    return any(
        " ".join(pieces[:length]) in words.answers["no_access"]
        for length in range(1, min(5, len(pieces)) + 1)
    )


def _says_nothing(cell: Cell, words: Words) -> bool:
    text = shown(cell)
    return is_blank(cell) or words.answered("dash", text) or words.answered("absent", text)


def _readings(reader: RowReader, words: Words) -> Readings:
    found, left, adjusted = _mixed(reader, words)
    own: dict[str, Any] = {"found_c": found, "left_c": left, "adjusted": adjusted}
    parts: dict[str, dict[str, Any]] = {"cold_isolated": {}, "hot_isolated": {}}
    for name, holds in reader.row.table.holds.items():
        if name in _MIXED or holds not in ("number", "answer"):
            continue
        value = reader.number(name) if holds == "number" else reader.answer(name)
        group, _, inner = name.rpartition(".")
        (parts[group] if group else own)[inner] = value
    isolations: dict[str, Any] = {name: Isolation(**values) for name, values in parts.items()}
    return Readings(**own, **isolations)


def _mixed(reader: RowReader, words: Words) -> tuple[float | None, float | None, bool | None]:
    """Mixed temperature as found and as left, and whether the adjuster was turned.

    A blank, a dash or "same" as left means as found, unless the row says that the valve was adjusted.
    """
    found = reader.number("found_c")
    said = reader.answer("adjusted")
    told = _tells_of_adjusting(reader.text("remarks"), words)
    cell = reader.row.cell("left_c")
    same = isinstance(cell, str) and words.answered("same", cell)
    if same or _stands_for_found(reader, cell, words):
        return found, *_left_as_found(reader, found, same, said, told)
    left = reader.number("left_c")
    if found is None or left is None:
        return found, left, True if told and said is None else said
    if said is False and left != found:
        reader.ask("adjusted", _CONTRADICTION)
    return found, left, bool(said) or told or left != found


def _stands_for_found(reader: RowReader, cell: Cell, words: Words) -> bool:
    has_column = bool(reader.row.where("left_c"))
    return has_column and (is_blank(cell) or words.answered("dash", shown(cell)))


def _left_as_found(
    reader: RowReader, found: float | None, same: bool, said: bool | None, told: bool
) -> tuple[float | None, bool | None]:
    adjusted = bool(said) or (told and said is None)
    if found is None:
        if same and not reader.questions:
            reader.ask("left_c", _SAME_AS_WHAT)
        return None, said
    if adjusted and not same:
        return None, True
    return found, adjusted


def _tells_of_adjusting(remarks: str, words: Words) -> bool:
    said = fold(remarks)
    pieces = said.split()
    if not pieces or any(piece in words.answers["denied"] for piece in pieces):
        return False
    return any(f" {phrase} " in f" {said} " for phrase in words.answers["adjusted"])
