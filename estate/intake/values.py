"""What one cell says: a yes or no, known words or codes; or a doubt."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from estate.domain.phrases import phrase
from estate.intake.grid import Cell, Trouble, is_blank, shown, words_of
from estate.intake.words import Words, fold

_BETWEEN_CODES = re.compile(r"[\s,/;+]+")
_HYPHENS = str.maketrans(dict.fromkeys("‐‑‒–—−", "-"))


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a cell was not taken, and what to do about it."""

    code: str
    remedy: str


def trouble_in(cell: Cell) -> Doubt | None:
    """The doubt about a cell whose value the file does not hold, or None."""
    if not isinstance(cell, Trouble):
        return None
    if cell.code == "formula-without-value":
        return Doubt(
            cell.code,
            phrase(
                "Open the file in a spreadsheet program, let it calculate, save it, and bring it in again."
            ),
        )
    return Doubt(cell.code, phrase("The spreadsheet program shows an error here; enter the value itself."))


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
    if yes == "yes" and _all_say_yes(text, words):
        return True
    if words.answered("absent", text) or words.answered("dash", text):
        return None
    return Doubt(
        "unreadable-value", phrase("Write yes or no, or leave the cell empty if it was not looked at.")
    )


def _all_say_yes(text: str, words: Words) -> bool:
    """Whether a cell says yes twice, such as "✓ ok"; two words for no may deny each other."""
    pieces = text.split()
    told = [words.answered("yes", piece) for piece in pieces if not words.answered("dash", piece)]
    return len(told) > 1 and all(told)


def choice(cell: Cell, kind: str, code: str, words: Words) -> str | Doubt | None:
    """Which of several values a cell names; None where it is blank."""
    if is_blank(cell):
        return None
    if doubt := trouble_in(cell):
        return doubt
    known, said = words.choices[kind], words_of(cell)
    found = None if "?" in said else known.get(fold(said))
    return found or Doubt(
        code, phrase("Write one of: {values}.", values=", ".join(dict.fromkeys(known.values())))
    )


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
        remedy = phrase("Write codes out of {codes}, or leave the cell empty.", codes=", ".join(known))
        return Doubt(
            "unreadable-value",
            phrase("{remedy} If the column holds something else, rename its heading.", remedy=remedy),
        )
    return found
