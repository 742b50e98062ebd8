"""Write the open actions to a file."""

from datetime import date
from pathlib import Path

from estate.domain.progress import Progress, silent
from estate.domain.register import AsAt
from estate.operations.browse import identity
from estate.operations.browse_actions import action_lines
from estate.operations.register import Register
from estate.operations.write_report import writer_for
from estate.reports.actions import actions


def write_actions(register: Register, to: Path, today: date, progress: Progress = silent) -> Path:
    """Write the open actions as at a day.

    Args:
        register: the open register.
        to: a file that ends in ``.pdf`` or ``.xlsx``.
        today: the as-at day.
        progress: told how far the work is.

    Raises:
        ReportFault: another ending, or the file can't be written.
    """
    writer = writer_for(to)
    lines = action_lines(register, today)
    return writer(actions(lines, AsAt(today, identity(register))), to, progress)
