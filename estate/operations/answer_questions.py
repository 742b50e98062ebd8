"""Answers to a sheet's questions as a text file: a template to fill in, and reading it back strictly."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from estate.domain.phrases import phrase
from estate.domain.questions import CHOICES, NEEDING_A_VALUE, Answer, Choice, Question
from estate.errors import EntryFault, ReportFault

OF_ONE_PLACE = frozenset({Choice.OUTLET, Choice.VALUE})
"""What can only be answered of one place: no two rows are of one outlet or one value by chance."""

_KEYS = {"code": str, "choice": str, "sheet": str, "row": int, "cell": str, "value": str}
_ASKED = ("ref", "found", "remedy", "choices", "suggested")
_REMEDY = "Correct the entry; nothing was brought in."


def answers_text(questions: Sequence[Question]) -> str:
    """A template with every question, its choices and an empty choice to be filled in.

    Entries whose choice is left empty answer nothing.
    """
    return json.dumps({"answers": [_entry(each) for each in questions]}, ensure_ascii=False, indent=1) + "\n"


def _entry(asked: Question) -> dict[str, Any]:
    return {
        "code": asked.code,
        "choice": "",
        "sheet": asked.sheet,
        "row": asked.row,
        "cell": asked.cell,
        "value": "",
        "ref": asked.ref or "",
        "found": asked.found,
        "remedy": asked.remedy,
        "choices": [choice.value for choice in asked.choices],
        "suggested": list(asked.suggested),
    }


def answers_from_text(text: str) -> tuple[Answer, ...]:
    """The answers of a file such as ``answers_text`` writes, in its order.

    Raises:
        EntryFault: it is no such file, or an entry has an unknown key, code or choice, or lacks a value.
    """
    try:
        body = json.loads(text)
    except ValueError as fault:
        raise EntryFault(
            "The answers can't be read", phrase("No JSON: {fault}.", fault=fault), _REMEDY
        ) from fault
    if not isinstance(body, dict) or set(body) != {"answers"} or not isinstance(body["answers"], list):
        detail = 'Expected {"answers": [ ... ]} and nothing beside it.'
        raise EntryFault("The answers can't be read", detail, _REMEDY)
    read = [_answer(entry, place) for place, entry in enumerate(body["answers"], start=1)]
    return tuple(each for each in read if each is not None)


def answers_from_file(path: Path) -> tuple[Answer, ...]:
    """The answers of a file such as `write_answers` writes.

    Raises:
        EntryFault: it can't be read, or is no such file.
    """
    try:
        return answers_from_text(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError) as fault:
        raise EntryFault(
            "The answers can't be read", f"{path}: {fault}.", "Check name and folder."
        ) from fault


def write_answers(questions: Sequence[Question], path: Path) -> None:
    """Write the template of `answers_text` to a file.

    Raises:
        ReportFault: the file can't be written.
    """
    try:
        path.write_text(answers_text(questions), encoding="utf-8")
    except OSError as fault:
        remedy = phrase("Choose a folder that can be written to.")
        raise ReportFault("The questions can't be written", f"{path}: {fault.strerror}.", remedy) from fault


def _answer(entry: object, place: int) -> Answer | None:
    """One entry; None where its choice is left empty."""
    if not isinstance(entry, dict):
        raise _fault(place, "it is no {...}")
    if unknown := sorted(set(entry) - {*_KEYS, *_ASKED}):
        raise _fault(
            place,
            phrase(
                "unknown key {unknown}; known are {keys}", unknown=", ".join(unknown), keys=", ".join(_KEYS)
            ),
        )
    for key, kind in _KEYS.items():
        if key in entry and type(entry[key]) is not kind:
            raise _fault(
                place,
                phrase(
                    "“{key}” has to be a {words}",
                    key=key,
                    words=phrase("number") if kind is int else phrase("text"),
                ),
            )
    code, said = entry.get("code", ""), entry.get("choice", "")
    if not said:
        return None
    if code not in CHOICES:
        raise _fault(
            place,
            phrase("unknown code “{code}”; known are {codes}", code=code, codes=", ".join(sorted(CHOICES))),
        )
    allowed = {choice.value: choice for choice in CHOICES[code]}
    if said not in allowed:
        raise _fault(
            place,
            phrase(
                "“{said}” does not answer {code}; allowed are {allowed}",
                said=said,
                code=code,
                allowed=", ".join(allowed) or phrase("none"),
            ),
        )
    return _checked(Answer(code, allowed[said], **_place(entry)), place)


def _place(entry: dict[str, Any]) -> dict[str, Any]:
    return {key: entry[key] for key in ("sheet", "row", "cell", "value") if key in entry}


def _checked(answer: Answer, place: int) -> Answer:
    if answer.row < 0:
        raise _fault(place, phrase("“row” is 1 or more, or 0 for any row"))
    if answer.choice in NEEDING_A_VALUE and not answer.value.strip():
        raise _fault(place, phrase("“{choice}” needs a “value”", choice=answer.choice))
    if answer.choice in OF_ONE_PLACE and not answer.row:
        raise _fault(place, phrase("“{choice}” needs the “row” it is meant for", choice=answer.choice))
    return answer


def _fault(place: int, what: str) -> EntryFault:
    return EntryFault(
        "The answers can't be read", phrase("Entry {place}: {what}.", place=place, what=what), _REMEDY
    )
