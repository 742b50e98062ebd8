"""Words in the person's own language: every string that the window shows goes through here.

Strings of tables that are made on import are marked with `said` and translated where they are shown.
"""

from typing import Any, Final

from PySide6.QtCore import QCoreApplication

CONTEXT: Final = "window"


def tr(text: str, **values: Any) -> str:
    """A text in the language of the window.

    Args:
        text: in English, with names in braces for what is put in, such as ``{shown:,} of {held:,}``.
        values: what is put in, by name.
    """
    known = QCoreApplication.translate(CONTEXT, text) if text else text
    return known.format(**values) if values else known


def said(text: str) -> str:
    """Mark a text that `tr` will be asked for later; it is returned as it is."""
    return text
