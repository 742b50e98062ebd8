"""Sizes, colours and the marks that can be put on a page; all lengths are points (1/72 inch)."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from estate.reports.document import Mark

MM = 72 / 25.4
PAGE_WIDTH, PAGE_HEIGHT = 297 * MM, 210 * MM
MARGIN = 15 * MM
LINE_WIDTH = PAGE_WIDTH - 2 * MARGIN
BODY_TOP = 20 * MM
BODY_HEIGHT = PAGE_HEIGHT - BODY_TOP - 17 * MM

INK = 0x1B2329
QUIET = 0x56626B
HAIR = 0xD3D9DD
ACCENT = 0x0B5567
TINT = 0xEFF4F5


class Face(StrEnum):
    """The two faces of the report's typeface, by the name they are known to the page by."""

    PLAIN = "EstatePlain"
    BOLD = "EstateBold"


@dataclass(frozen=True, slots=True)
class Style:
    """Face, size and colour of words."""

    face: Face
    size: float
    colour: int = INK


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words, its foot `down` below the top of its block."""

    x: float
    down: float
    text: str
    style: Style


@dataclass(frozen=True, slots=True)
class Box:
    """A filled rectangle, its top `down` below the top of its block."""

    x: float
    down: float
    width: float
    height: float
    colour: int


@dataclass(frozen=True, slots=True)
class Shape:
    """The shape beside a marked word; its top left corner."""

    x: float
    down: float
    mark: Mark


Stroke: TypeAlias = Words | Box | Shape


@dataclass(frozen=True)
class Entry:
    """A line of the document's outline."""

    level: int
    title: str


@dataclass(frozen=True)
class Block:
    """Something that is never torn between two pages.

    Attributes:
        keeps_next: it must not be the last on its page.
        repeat: put again above it where it begins a page.
    """

    height: float
    strokes: tuple[Stroke, ...] = ()
    keeps_next: bool = False
    repeat: tuple["Block", ...] = ()
    entry: Entry | None = None


def hair(
    down: float, x: float = 0.0, width: float = LINE_WIDTH, colour: int = HAIR, thick: float = 0.5
) -> Box:
    """A thin line across."""
    return Box(x, down, width, thick, colour)
