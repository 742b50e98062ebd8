"""A file becomes grids, whatever form it has; what can't be opened is refused in words."""

from collections.abc import Callable
from pathlib import Path, PurePath

from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake import compound, csv_text, old_workbook, open_document, workbook
from estate.intake.grid import Grid
from estate.intake.package import damaged, names_in, too_big
from estate.intake.signatures import check_is_sheet, other_container

MOST_FILE_BYTES = 60_000_000
"""A bigger file is refused unread."""

_ZIPPED = b"PK"


def content_of(path: Path) -> bytes:
    """The bytes of a file.

    Raises:
        IntakeFault: it is not there, can't be read or is too big.
    """
    if not path.is_file():
        remedy = phrase("Check the name and the folder.")
        raise IntakeFault("The file is not there", phrase("“{path}” is not a file.", path=path), remedy)
    try:
        size = path.stat().st_size
        if size > MOST_FILE_BYTES:
            raise too_big(path.name, phrase("{size:,.0f} MB", size=size / 1e6))
        return path.read_bytes()
    except OSError as fault:
        raise damaged(path.name, fault.strerror or phrase("it can't be read")) from fault


def grids_in(content: bytes, file: str, best: Callable[[Grid], tuple[int, int]]) -> tuple[Grid, ...]:
    """The sheets of a file, by what its bytes say it is, whatever its name says.

    Args:
        content: its bytes.
        file: its name, for faults and for the sheet's name where the file names none.
        best: how well a grid is understood, to choose a text's delimiter by.

    Raises:
        IntakeFault: the file can't be opened, or is no sheet.
    """
    if len(content) > MOST_FILE_BYTES:
        raise too_big(file, phrase("{size:,.0f} MB", size=len(content) / 1e6))
    if not content.strip():
        raise IntakeFault(
            "The file is empty", phrase("“{file}” has nothing in it.", file=file), "Ask for the file again."
        )
    if content.startswith(compound.SIGN):
        return old_workbook.grids_of(content, file)
    if content.startswith(_ZIPPED):
        return _of_container(content, file)
    if open_document.is_flat(content):
        return open_document.grids_of_flat(content, file)
    check_is_sheet(content, file)
    return _of_text(content, file, best)


def _of_container(content: bytes, file: str) -> tuple[Grid, ...]:
    names = names_in(content, file)
    if workbook.BOOK in names:
        return workbook.grids_of(content, file)
    if open_document.CELLS in names or open_document.LOCKED in names:
        return open_document.grids_of(content, file)
    raise other_container(names, file)


def _of_text(content: bytes, file: str, best: Callable[[Grid], tuple[int, int]]) -> tuple[Grid, ...]:
    name = PurePath(file).stem
    said, text = csv_text.said_delimiter(csv_text.text_of(content, file))
    if said:
        return (csv_text.grid_of(text, said, name, file),)
    delimiter = max(csv_text.trials_of(text, name, file), key=lambda trial: best(trial[1]))[0]
    return (csv_text.grid_of(text, delimiter, name, file),)
