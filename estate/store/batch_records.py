"""Between rows and values: answers and layouts as JSON."""

import json
from collections.abc import Iterable
from typing import Any

from estate.domain.layouts import DateOrder, Form, Layout, LayoutColumn, SheetKind
from estate.domain.questions import Answer, Choice

_ANSWER = ("code", "choice", "sheet", "row", "cell", "value")


def answers_text(answers: Iterable[Answer]) -> str:
    """Answers as a JSON list of lists, in the order in which they were given."""
    told = [[getattr(each, name) for name in _ANSWER] for each in answers]
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"))


def answers_of(text: str) -> tuple[Answer, ...]:
    """The answers that `answers_text` wrote."""
    return tuple(Answer(code, Choice(choice), *place) for code, choice, *place in json.loads(text))


def layout_body(layout: Layout) -> str:
    """What a layout says of columns, form and dates, as JSON."""
    said = {
        "columns": [[each.heading, each.field, each.unit] for each in layout.columns],
        "form": layout.form.value,
        "date_order": layout.date_order and layout.date_order.value,
    }
    return json.dumps(said, ensure_ascii=False, separators=(",", ":"))


def layout_of(row: Any) -> Layout:
    """A layout from its row."""
    said = json.loads(row.body)
    return Layout(
        name=row.name,
        kind=SheetKind(row.kind),
        columns=tuple(LayoutColumn(*each) for each in said["columns"]),
        form=Form(said["form"]),
        date_order=None if said["date_order"] is None else DateOrder(said["date_order"]),
        sender=row.sender,
    )
