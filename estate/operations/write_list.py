"""Write a list to a file as it stands on the screen."""

from datetime import date
from pathlib import Path

from estate.domain.progress import Progress, silent
from estate.domain.register import AsAt
from estate.domain.shown_list import ShownList
from estate.errors import ReportFault
from estate.operations.browse import identity
from estate.operations.register import Register
from estate.reports import xlsx
from estate.reports.delimited import write_delimited
from estate.reports.shown_list import shown_list


def write_list(
    register: Register, shown: ShownList, to: Path, today: date, progress: Progress = silent
) -> Path:
    """Write a list as a workbook or as delimited text.

    Args:
        register: the open register.
        shown: what the list shows.
        to: a file that ends in ``.xlsx`` or ``.csv``.
        today: the as-at day.
        progress: told how far the work is.

    Raises:
        ReportFault: another ending, or the file can't be written.
    """
    ending = to.suffix.lower()
    if ending not in (".xlsx", ".csv"):
        raise ReportFault("Unknown kind of file", f"{to.name}.", "Give a name that ends in .xlsx or .csv.")
    as_at = AsAt(today, identity(register), register.known_at)
    if ending == ".csv":
        return write_delimited(shown, as_at, to)
    return xlsx.write(shown_list(shown, as_at), to, progress)
