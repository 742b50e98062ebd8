"""The sheets of a file as they are: beside what was read of them, or at the row that an entry came from."""

from estate.domain.layouts import ShownSheet
from estate.intake.showing import shown_sheets
from estate.operations.browse_batches import original
from estate.operations.proposals import Proposal
from estate.operations.register import Register
from estate.store import batches


def show_sheets(proposal: Proposal) -> tuple[ShownSheet, ...]:
    """The sheets of the file that a proposal was made of."""
    return shown_sheets(proposal.content, proposal.reading.file)


def show_kept(register: Register, batch_id: int) -> tuple[ShownSheet, ...]:
    """The sheets of the file that is kept with a batch.

    Raises:
        NotFoundFault: there is no such batch.
        IntakeFault: the file can't be opened any more.
    """
    with register.database.reading() as session:
        name = batches.batch(session, batch_id).file
    return shown_sheets(original(register, batch_id), name)
