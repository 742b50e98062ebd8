"""The sheets that other programs saved, with the truth of each."""

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from tests.intake.manners.paper import Due, Entry, Sheet

KEPT = Path(__file__).parents[2] / "data" / "sheets" / "manners"


def kept() -> Iterator[tuple[Sheet, tuple[str, bytes]]]:
    """Each kept sheet with its file's name and bytes."""
    told: dict[str, Any] = json.loads((KEPT / "truth.json").read_text(encoding="utf-8"))
    for name, manner in told["files"].items():
        truth = told["truth"][manner]
        entries = tuple(_entry(each) for each in truth["entries"])
        sheet = Sheet(manner, truth["seed"], truth["style"], "", (), entries)
        yield sheet, (name, (KEPT / name).read_bytes())


def _entry(told: dict[str, Any]) -> Entry:
    values = {
        name: tuple(value) if isinstance(value, list) else value for name, value in told["values"].items()
    }
    return Entry(
        ref=told.get("ref", ""),
        on=date.fromisoformat(told["on"]) if told["on"] else None,
        values=values,
        due=Due(told["due"]),
        page=told["page"],
        first=told["first"],
        last=told["last"],
        free=frozenset(told.get("free", ())),
        kind=told.get("kind", "in-service test"),
        instrument=told.get("instrument", ""),
        why=told.get("why", ""),
    )
