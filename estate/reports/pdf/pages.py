"""Blocks laid out on pages: heads repeated, headings kept with what follows, nothing cut."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from estate.reports.pdf.ink import BODY_HEIGHT, Block


@dataclass
class Page:
    """The blocks of one page with their distance from the top of its body."""

    blocks: list[tuple[Block, float]] = field(default_factory=list)
    used: float = 0.0

    def add(self, block: Block) -> None:
        """Put a block below the last one."""
        self.blocks.append((block, self.used))
        self.used += block.height

    def has_room(self, height: float) -> bool:
        """Whether so much more goes on it; an empty page takes anything."""
        return not self.blocks or self.used + height <= BODY_HEIGHT


def lay_out(blocks: Iterable[Block]) -> list[Page]:
    """Fill pages from the top; at least one page."""
    pages = [Page()]
    together: list[Block] = []
    for block in blocks:
        together.append(block)
        if not block.keeps_next:
            _place(together, pages)
            together = []
    _place(together, pages)
    return pages


def _place(together: Sequence[Block], pages: list[Page]) -> None:
    """Place blocks that belong on one page; if they are too many for any page, let them run on."""
    if not together:
        return
    height = sum(block.height for block in together)
    repeated = sum(block.height for block in together[0].repeat)
    if height + repeated > BODY_HEIGHT and len(together) > 1:
        for block in together:
            _place((block,), pages)
        return
    if not pages[-1].has_room(height):
        pages.append(Page())
        for block in together[0].repeat:
            pages[-1].add(block)
    for block in together:
        pages[-1].add(block)
