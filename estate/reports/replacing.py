"""A file that appears whole or not at all."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from estate.domain.phrases import phrase
from estate.errors import ReportFault

_TITLE = "The report can't be written"


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """Give a path to write to; when the block ends well, the file takes its place in one step.

    Args:
        path: where the finished file is to be; a file already there is replaced.

    Yields:
        A path in a folder of its own beside the target, on the same disk.

    Raises:
        ReportFault: the folder is missing, the target is a folder, or the system refuses to write.
    """
    if not path.parent.is_dir():
        raise ReportFault(
            _TITLE,
            phrase("There is no folder {parent}.", parent=path.parent),
            "Make the folder first, or choose another one.",
        )
    if path.is_dir():
        raise ReportFault(_TITLE, phrase("{path} is a folder.", path=path), "Give a file name as well.")
    try:
        with TemporaryDirectory(prefix=".report-", dir=path.parent) as folder:
            written = Path(folder) / path.name
            yield written
            written.replace(path)
    except PermissionError as refusal:
        remedy = phrase(
            "Close it where it is open in another program, or choose a folder that you may write to."
        )
        raise ReportFault(_TITLE, f"{path}: {refusal.strerror or refusal}.", remedy) from refusal
    except OSError as failure:
        remedy = phrase("See that the disk is there and has room, or choose another folder.")
        raise ReportFault(_TITLE, f"{path}: {failure.strerror or failure}.", remedy) from failure
