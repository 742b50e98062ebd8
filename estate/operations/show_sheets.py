"""The sheets of a file as they are, to be shown beside what was read of them."""

from estate.domain.layouts import ShownSheet
from estate.intake.showing import shown_sheets
from estate.operations.proposals import Proposal


def show_sheets(proposal: Proposal) -> tuple[ShownSheet, ...]:
    """The sheets of the file that a proposal was made of."""
    return shown_sheets(proposal.content, proposal.reading.file)
