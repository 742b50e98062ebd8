"""Layouts to remember: made from a reading that a person looked at, written as text and read from it."""

import tomllib
from collections.abc import Mapping
from enum import StrEnum
from typing import Any, TypeVar

from estate.domain.intake import SheetReading
from estate.domain.layouts import DateOrder, Form, Layout, LayoutColumn, SheetKind, TableColumn
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.words import fold

_Choice = TypeVar("_Choice", bound=StrEnum)
_KEYS = {"name": str, "kind": str, "form": str, "date_order": str, "sender": str, "column": list}
_COLUMN_KEYS = {"heading": str, "field": str, "unit": str}
_ESCAPED = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
_REMEDY = "Export the layout again, or make it anew from a sheet."


def layout_of(reading: SheetReading, name: str, sender: str, changes: Mapping[str, str]) -> Layout:
    """The layout of a file as it was read, with what a person changed.

    Args:
        reading: the file.
        name: chosen by the person.
        sender: who sends such sheets, in words.
        changes: heading to the field that it is to stand for; an empty field leaves the column out.

    Raises:
        IntakeFault: the name is empty, or a heading is changed that the file does not have.
    """
    if not name.strip():
        raise IntakeFault("The layout has no name", "It is found again by its name.", "Give it a name.")
    columns: dict[str, TableColumn] = {}
    for table in reading.tables:
        for column in table.columns:
            known = columns.get(column.heading)
            if column.heading and (known is None or not known.field):
                columns[column.heading] = column
    if unknown := sorted(set(changes) - set(columns)):
        detail = phrase(
            "Not in “{file}”: {unknown}.",
            file=reading.file,
            unknown=", ".join(f"“{heading}”" for heading in unknown),
        )
        raise IntakeFault("There is no such heading", detail, "Choose a heading of the sheet.")
    return Layout(
        name=name.strip(),
        kind=reading.kind,
        columns=tuple(_remembered(column, changes) for column in columns.values()),
        form=reading.tables[0].form if reading.tables else Form.ROWS,
        date_order=_order_of(reading.date_order),
        sender=sender.strip(),
    )


def _remembered(column: TableColumn, changes: Mapping[str, str]) -> LayoutColumn:
    field = changes.get(column.heading, column.field)
    return LayoutColumn(column.heading, field, column.unit if field == column.field else "")


def _order_of(said: str) -> DateOrder | None:
    return next((order for order in DateOrder if order == said), None)


def layout_text(layout: Layout) -> str:
    """A layout as a text that can be kept in a file or sent on."""
    lines = [
        f"name = {_quoted(layout.name)}",
        f"kind = {_quoted(layout.kind)}",
        f"form = {_quoted(layout.form)}",
        f"date_order = {_quoted(layout.date_order or '')}",
        f"sender = {_quoted(layout.sender)}",
    ]
    if not layout.columns:
        lines.append("column = []")
    for column in layout.columns:
        lines += ["", "[[column]]"]
        lines += [f"{key} = {_quoted(getattr(column, key))}" for key in _COLUMN_KEYS]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    escaped = "".join(
        _ESCAPED.get(each) or (f"\\u{ord(each):04x}" if ord(each) < 32 or ord(each) == 127 else each)
        for each in text
    )
    return f'"{escaped}"'


def layout_from_text(text: str) -> Layout:
    """The layout that a text holds.

    Raises:
        IntakeFault: it is no such text, or something in it is missing, unknown or said twice.
    """
    try:
        raw = tomllib.loads(text)
    except ValueError as fault:
        raise _fault(str(fault)) from fault
    _check(raw, _KEYS, "the layout")
    if not raw["name"].strip():
        raise _fault(phrase("it has no name"))
    columns = tuple(_column(body, place) for place, body in enumerate(raw["column"], 1))
    headings = [fold(column.heading) for column in columns]
    if doubled := next((each for each in columns if headings.count(fold(each.heading)) > 1), None):
        raise _fault(phrase("the heading “{heading}” stands twice", heading=doubled.heading))
    order = raw["date_order"]
    return Layout(
        name=raw["name"],
        kind=_one_of(SheetKind, raw["kind"], "kind"),
        columns=columns,
        form=_one_of(Form, raw["form"], "form"),
        date_order=_one_of(DateOrder, order, "date_order") if order else None,
        sender=raw["sender"],
    )


def _column(body: object, place: int) -> LayoutColumn:
    if not isinstance(body, dict):
        raise _fault(phrase("column {place} is no table", place=place))
    _check(body, _COLUMN_KEYS, f"column {place}")
    if not body["heading"].strip():
        raise _fault(phrase("column {place} has no heading", place=place))
    return LayoutColumn(body["heading"], body["field"], body["unit"])


def _check(body: Mapping[str, Any], keys: Mapping[str, type], where: str) -> None:
    if odd := sorted(set(body) ^ set(keys)):
        raise _fault(phrase("{where}: missing or unknown: {odd}", where=where, odd=", ".join(odd)))
    if wrong := next((key for key, kind in keys.items() if not isinstance(body[key], kind)), ""):
        raise _fault(phrase("{where}: {wrong} has the wrong type", where=where, wrong=wrong))


def _one_of(kinds: type[_Choice], said: str, key: str) -> _Choice:
    for each in kinds:
        if each.value == said:
            return each
    raise _fault(
        phrase("{key} must be one of {kinds}", key=key, kinds=", ".join(each.value for each in kinds))
    )


def _fault(wrong: str) -> IntakeFault:
    return IntakeFault("The layout can't be read", phrase("In its text: {wrong}.", wrong=wrong), _REMEDY)
