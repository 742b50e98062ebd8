"""Which sheets of a file hold a table, of which kind, and what is wrong where none does."""

from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.errors import IntakeFault
from estate.intake.grid import Grid, is_blank, words_of
from estate.intake.layout import EXPECTED, Table, find_table, nearest
from estate.intake.words import Words


def understood(grid: Grid, words: Words, kind: SheetKind | None) -> tuple[int, int]:
    """How many columns a delimiter makes understood, then how many it makes at all."""
    near = [nearest(grid, words, each) for each in _kinds(kind)]
    columns = max((len(table.places) for table in near if table), default=0)
    return columns, max(map(len, grid.rows), default=0)


def _kinds(kind: SheetKind | None) -> tuple[SheetKind, ...]:
    return (kind,) if kind else (SheetKind.VISITS, SheetKind.ASSETS)


def tables_in(
    grids: tuple[Grid, ...], words: Words, kind: SheetKind | None
) -> tuple[list[Table], list[Question]]:
    """The tables of the kind asked for.

    Args:
        grids: the sheets of the file.
        words: the words of headings.
        kind: the kind asked for; None to find out.

    Returns:
        The tables in the order of the sheets, and a question for each sheet that seems to hold
        one but is not read.

    Raises:
        IntakeFault: there is no table, or there are tables of both kinds.
    """
    found = [(grid, _table(grid, words, kind)) for grid in grids]
    tables = [table for grid, table in found if table and not grid.hidden]
    if not tables:
        raise _no_table(tuple(grid for grid in grids if not grid.hidden), words, kind)
    if len({table.kind for table in tables}) > 1:
        detail = "; ".join(f"“{table.grid.name}” holds {table.kind}" for table in tables)
        remedy = "Say which to bring in: assets or visits."
        raise IntakeFault("The workbook holds both kinds of sheet", f"{detail}.", remedy)
    questions = []
    for grid, table in found:
        if table and grid.hidden:
            remedy = "Show the sheet if it is to be read, or delete it."
            questions.append(_about(grid, "hidden-sheet", remedy))
        elif not table and not grid.hidden and _is_unread(grid, words, kind):
            expected = EXPECTED[tables[0].kind]
            remedy = (
                f"No header was found in this sheet. Expected: {expected}. Put one in, or delete the sheet."
            )
            questions.append(_about(grid, "unreadable-sheet", remedy))
    return tables, questions


def _about(grid: Grid, code: str, remedy: str) -> Question:
    return Question(grid.name, 1, "A1", code, None, _first_words(grid), remedy)


def _is_unread(grid: Grid, words: Words, kind: SheetKind | None) -> bool:
    """Whether a sheet without a table of the kind asked for looks like one, and is not of the other kind."""
    wide = sum(sum(not is_blank(cell) for cell in row) >= 3 for row in grid.rows)
    return wide >= 3 and not (kind and _table(grid, words, None))


def _table(grid: Grid, words: Words, kind: SheetKind | None) -> Table | None:
    tables = (find_table(grid, words, each) for each in _kinds(kind))
    return next((table for table in tables if table), None)


def _first_words(grid: Grid) -> str:
    return next((words_of(cell) for row in grid.rows for cell in row if not is_blank(cell)), "")


def _no_table(grids: tuple[Grid, ...], words: Words, kind: SheetKind | None) -> IntakeFault:
    near = [table for grid in grids for each in _kinds(kind) if (table := nearest(grid, words, each))]
    if not near:
        sheets = ", ".join(f"“{grid.name}”" for grid in grids) or "none"
        remedy = "Bring in a file with one table of results or assets."
        return IntakeFault(
            "There is no table in the file", f"Sheets to be seen: {sheets}; no row has two cells.", remedy
        )
    best = max(near, key=lambda table: len(table.places))
    where = f"Sheet “{best.grid.name}”, row {best.header[-1] + 1}"
    headings = ", ".join(f"“{column.heading}”" for column in best.columns[:30])
    expected = "; or ".join(f"for {each}: {EXPECTED[each]}" for each in _kinds(kind))
    detail = f"{where}: not found: {', '.join(best.missing)}. Headings there: {headings}."
    return IntakeFault(
        "The columns needed are not there", detail, f"Expected {expected}. Name the headings so."
    )
