"""Words in the person's own language: every string that the window shows goes through here.

Strings of tables that are made on import are marked with `said` and translated where they are shown.
"""

from typing import Any, Final

from PySide6.QtCore import QCoreApplication

from estate.domain.phrases import Phrase, values_told

CONTEXT: Final = "window"


def tr(text: str, /, **values: Any) -> str:
    """A text in the language of the window.

    Args:
        text: in English, with names in braces for what is put in, such as ``{shown:,} of {held:,}``; or a
            phrase of the domain.
        values: what is put in, by name; a phrase among them is told in that language too.
    """
    if isinstance(text, Phrase):
        return text.told(_known)
    known = _known(text) if text else text
    return known.format(**values_told(values, _known)) if values else known


def tr_count(n: int, one: str, many: str, /, **values: Any) -> str:
    """A text with a count in it, in the form that the language has for that count.

    Args:
        n: the count, put in at ``{n:,}``.
        one: in English for a count of 1, such as ``{n:,} outlet``.
        many: in English for any other count; a catalogue has its forms under it.
        values: what else is put in, by name.
    """
    known = _known(many, n)
    return (one if known == many and n == 1 else known).format(n=n, **values_told(values, _known))


def _known(text: str, count: int | None = None) -> str:
    return QCoreApplication.translate(CONTEXT, text, None, -1 if count is None else count)


def said(text: str) -> str:
    """Mark a text that `tr` will be asked for later; it is returned as it is."""
    return text
