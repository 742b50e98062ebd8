"""What a signature covers, as (name, value) lines, and how it stands as a cell of a table."""

from estate.domain.register import Batch
from estate.domain.signatures import Signing, SigningState
from estate.domain.visits import Visit, measured
from estate.window import words
from estate.window.marks import Mark
from estate.window.models.cells import Cell
from estate.window.models.field_words import field_words

_SHORT = {
    SigningState.MISFIT: ("does not fit", Mark.BARRED),
    SigningState.WITHDRAWN: ("key withdrawn", Mark.OPEN_WEDGE),
    SigningState.UNSIGNED: ("unsigned", None),
    SigningState.SIGNED: ("signed", None),
    SigningState.COUNTERSIGNED: ("countersigned", None),
}
"""The worst first in order."""


def signing_cell(signing: Signing) -> Cell:
    """How an entry stands, with everybody who signed in its tip."""
    text, mark = _SHORT[signing.state]
    return Cell(text, float(list(_SHORT).index(signing.state)), mark, tip=signing.words.replace("; ", "\n"))


def visit_facts(visit: Visit) -> tuple[tuple[str, str], ...]:
    """What was measured and seen at a visit, and where the entry came from."""
    draft = visit.draft
    found = [
        (words.sentence(field_words(name)), _value(each)) for name, each in measured(visit.readings).items()
    ]
    source = draft.source
    where = f"{source.file}, {source.sheet}, row {source.row}" if source is not None else "entered by hand"
    found.append(("Remarks", draft.remarks or "none"))
    found.append(("From", f"{where}, by {visit.recorded_by}"))
    return tuple(found)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return words.number(value) if isinstance(value, int | float) else str(value)


def batch_facts(batch: Batch) -> tuple[tuple[str, str], ...]:
    """What a batch is."""
    return (
        ("Rows taken", f"{batch.accepted:,} of {batch.read:,}"),
        ("Brought in", f"by {batch.who}, {words.moment(batch.at)}"),
        ("SHA-256 of the file", " ".join(batch.digest[at : at + 8] for at in range(0, 64, 8))),
    )
