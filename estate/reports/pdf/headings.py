"""Blocks of running words: title, facts, cautions, section headings, heads and feet of pages."""

from collections.abc import Sequence
from itertools import chain

from estate.reports.document import Document, Section
from estate.reports.pdf.ink import (
    ACCENT,
    INK,
    LINE_WIDTH,
    QUIET,
    Block,
    Box,
    Entry,
    Face,
    Stroke,
    Style,
    Words,
    hair,
)
from estate.reports.pdf.lettering import elided, elided_to, lines_of, width_of

_TITLE = Style(Face.BOLD, 21)
_FIGURE = Style(Face.BOLD, 13, ACCENT)
_LABEL = Style(Face.PLAIN, 9, QUIET)
_FACT = Style(Face.PLAIN, 9)
_CAUTION_HEAD = Style(Face.BOLD, 9, ACCENT)
_CAUTION = Style(Face.PLAIN, 8.5)
_CAUTION_LABEL = Style(Face.BOLD, 8.5)
_SECTION = Style(Face.BOLD, 12.5)
_BODY = Style(Face.PLAIN, 9)
_HEAD = Style(Face.PLAIN, 8, QUIET)
_HEAD_STRONG = Style(Face.BOLD, 8)

_FACTS_WIDTH = 0.48 * LINE_WIDTH
_CAUTIONS_X = 0.54 * LINE_WIDTH
_MEASURE = 0.72 * LINE_WIDTH
_LONGEST_FACT = 900


def _labelled(
    pairs: Sequence[tuple[str, str]], styles: tuple[Style, Style], x: float, label_width: float, width: float
) -> tuple[float, list[Stroke]]:
    """Labels in one column, words beside them in another; the height and the strokes."""
    label_style, style = styles
    leading = style.size * 1.32
    strokes: list[Stroke] = []
    down = 0.0
    for label, words in pairs:
        lines = lines_of(elided(words, _LONGEST_FACT), style, width - label_width)
        labels = lines_of(label, label_style, label_width - 6)
        strokes += [Words(x, down + leading * (n + 0.78), line, label_style) for n, line in enumerate(labels)]
        strokes += [
            Words(x + label_width, down + leading * (n + 0.78), line, style) for n, line in enumerate(lines)
        ]
        down += leading * max(len(lines), len(labels)) + 3.5
    return down, strokes


def _lowered(strokes: Sequence[Stroke], by: float) -> list[Stroke]:
    return [Words(s.x, s.down + by, s.text, s.style) for s in strokes if isinstance(s, Words)]


def masthead(document: Document) -> Block:
    """Title, facts and cautions side by side at the top of the first page."""
    titles = lines_of(elided(document.title, 150), _TITLE, LINE_WIDTH)
    strokes: list[Stroke] = [Words(0, 24 + 26 * n, line, _TITLE) for n, line in enumerate(titles)]
    top = 26.0 * len(titles) + 14
    first, *others = document.facts
    strokes.append(Words(0, top + 12, f"{first.label}: {first.words}", _FIGURE))
    pairs = [(fact.label, fact.words) for fact in others]
    facts_height, facts = _labelled(pairs, (_LABEL, _FACT), 0, 102, _FACTS_WIDTH)
    strokes += _lowered(facts, top + 22)
    cautions_height, cautions = _cautions(document)
    strokes += _lowered(cautions, top)
    height = max(facts_height + 22, cautions_height)
    strokes.append(Box(_CAUTIONS_X - 14, top + 2, 1.2, height - 5, ACCENT))
    return Block(top + height + 16, tuple(strokes))


def _cautions(document: Document) -> tuple[float, list[Stroke]]:
    pairs = [(caution.about, caution.words) for caution in document.cautions]
    width = LINE_WIDTH - _CAUTIONS_X
    height, strokes = _labelled(pairs, (_CAUTION_LABEL, _CAUTION), _CAUTIONS_X, 60, width)
    head = Words(_CAUTIONS_X, 11, "Cautions", _CAUTION_HEAD)
    return height + 18, [head, *_lowered(strokes, 18)]


def section_heading(section: Section) -> tuple[Block, ...]:
    """The section's title and its words; the title stays with what follows."""
    titles = lines_of(elided(section.title, 200), _SECTION, LINE_WIDTH)
    strokes: list[Stroke] = [hair(8)]
    strokes += [Words(0, 26 + 15 * n, line, _SECTION) for n, line in enumerate(titles)]
    has_table = section.table is not None
    title = Block(18 + 15.0 * len(titles), tuple(strokes), True, entry=Entry(0, section.title))
    return (title, *chain.from_iterable(_paragraph(words, has_table) for words in section.words))


def _paragraph(words: str, keeps_next: bool) -> list[Block]:
    lines = lines_of(words, _BODY, _MEASURE)
    blocks = [Block(12.2, (Words(0, 9, line, _BODY),), keeps_next) for line in lines]
    return [*blocks, Block(4, keeps_next=keeps_next)]


def running_head(document: Document) -> Block:
    """Register, report and as-at date, at the top of every page."""
    as_at = document.as_at_words
    room = LINE_WIDTH - width_of(as_at, _HEAD_STRONG) - 30
    register = elided_to(document.register, _HEAD_STRONG, 0.55 * room)
    after = width_of(register, _HEAD_STRONG) + 10
    title = elided_to(document.title, _HEAD, room - after)
    return Block(
        14,
        (
            Words(0, 8, register, _HEAD_STRONG),
            Words(after, 8, title, _HEAD),
            Words(LINE_WIDTH - width_of(as_at, _HEAD_STRONG), 8, as_at, _HEAD_STRONG),
            hair(13, colour=INK, thick=0.8),
        ),
    )


def running_foot(document: Document, page: int, pages: int) -> Block:
    """Identity and page number, at the foot of every page."""
    number = f"page {page} of {pages}"
    basis = elided_to(document.basis, _HEAD, LINE_WIDTH - width_of(number, _HEAD_STRONG) - 30)
    at = LINE_WIDTH - width_of(number, _HEAD_STRONG)
    return Block(12, (Words(0, 8, basis, _HEAD), Words(at, 8, number, _HEAD_STRONG)))
