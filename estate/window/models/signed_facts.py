"""What a signature covers, as (name, value) lines, and how it stands as a cell of a table."""

from estate.domain.register import Batch
from estate.domain.signatures import Signing, SigningState
from estate.domain.visits import Visit, measured
from estate.window import words
from estate.window.marks import Mark
from estate.window.models.cells import Cell
from estate.window.models.field_words import field_words
from estate.window.translating import said, tr

_SHORT = {
    SigningState.MISFIT: (said("does not fit"), Mark.BARRED),
    SigningState.WITHDRAWN: (said("key withdrawn"), Mark.OPEN_WEDGE),
    SigningState.UNSIGNED: (said("unsigned"), None),
    SigningState.SIGNED: (said("signed"), None),
    SigningState.COUNTERSIGNED: (said("countersigned"), None),
}
"""The worst first in order."""


def signing_cell(signing: Signing) -> Cell:
    """How an entry stands, with everybody who signed in its tip."""
    text, mark = _SHORT[signing.state]
    return Cell(
        tr(text), float(list(_SHORT).index(signing.state)), mark, tip=tr(signing.words).replace("; ", "\n")
    )


def visit_facts(visit: Visit) -> tuple[tuple[str, str], ...]:
    """What was measured and seen at a visit, and where the entry came from."""
    draft = visit.draft
    found = [
        (words.sentence(field_words(name)), _value(each)) for name, each in measured(visit.readings).items()
    ]
    source = draft.source
    where = (
        tr("{file}, {sheet}, row {row}", file=source.file, sheet=source.sheet, row=source.row)
        if source is not None
        else tr("entered by hand")
    )
    found.append((tr("Remarks"), draft.remarks or tr("none")))
    found.append((tr("From"), tr("{where}, by {recorded_by}", where=where, recorded_by=visit.recorded_by)))
    return tuple(found)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    return words.number(value) if isinstance(value, int | float) else str(value)


def batch_facts(batch: Batch) -> tuple[tuple[str, str], ...]:
    """What a batch is."""
    return (
        (tr("Rows taken"), tr("{accepted:,} of {read:,}", accepted=batch.accepted, read=batch.read)),
        (tr("Brought in"), tr("by {who}, {moment}", who=batch.who, moment=words.moment(batch.at))),
        (tr("SHA-256 of the file"), words.in_eights(batch.digest)),
    )
