"""How the cells of a round sheet look: given ones tinted and locked, those to be filled framed and white."""

from enum import StrEnum

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Protection, Side
from openpyxl.workbook import Workbook

_INK = "1D262C"
_FRAME = Side("thin", color="56626B")
_HAIR = Side("hair", color="9AA5AC")
_TINT = PatternFill("solid", "EFF4F5")
_WHITE = PatternFill("solid", "FFFFFF")
_BOXED = Border(_FRAME, _FRAME, _FRAME, _FRAME)
_RULED = Border(_HAIR, _HAIR, _HAIR, _HAIR)
_WRAPPED = Alignment("left", "center", wrap_text=True)
_CENTRED = Alignment("center", "center", wrap_text=True)
_OPEN = Protection(locked=False)


class RoundLook(StrEnum):
    """The named styles of a round sheet."""

    GIVEN_HEAD = "Round given column"
    ENTRY_HEAD = "Round entry column"
    GIVEN = "Round given"
    LIMIT = "Round limit"
    ENTRY = "Round entry"
    ENTRY_DATE = "Round entry of a day"
    ENTRY_WORDS = "Round entry of words"
    CAUTION = "Round caution"


def add_round_looks(book: Workbook) -> None:
    """Make the styles known to a workbook."""
    head = Font("Calibri", 10, bold=True, color=_INK)
    small = Font("Calibri", 11, color=_INK)
    entry = Font("Calibri", 12, color="000000")
    styles = (
        NamedStyle(RoundLook.GIVEN_HEAD.value, head, _TINT, _RULED, _WRAPPED),
        NamedStyle(RoundLook.ENTRY_HEAD.value, head, _WHITE, _BOXED, _CENTRED),
        NamedStyle(RoundLook.GIVEN.value, small, _TINT, _RULED, _WRAPPED),
        NamedStyle(RoundLook.LIMIT.value, small, _TINT, _RULED, _CENTRED),
        NamedStyle(RoundLook.ENTRY.value, entry, _WHITE, _BOXED, _CENTRED, protection=_OPEN),
        NamedStyle(
            RoundLook.ENTRY_DATE.value, entry, _WHITE, _BOXED, _CENTRED, "d mmm yyyy", protection=_OPEN
        ),
        NamedStyle(RoundLook.ENTRY_WORDS.value, entry, _WHITE, _BOXED, _WRAPPED, protection=_OPEN),
        NamedStyle(
            RoundLook.CAUTION.value, Font("Calibri", 11, color=_INK), alignment=Alignment(vertical="center")
        ),
    )
    for style in styles:
        book.add_named_style(style)
