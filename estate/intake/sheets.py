"""Which sheets of a file hold a table, of which kind, and what is wrong where none does."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from estate.domain.cell_names import place_name
from estate.domain.layouts import Layout, SheetKind
from estate.domain.phrases import phrase, together
from estate.domain.questions import Question
from estate.domain.written_back import is_added
from estate.errors import IntakeFault
from estate.intake.across import days_alone
from estate.intake.entries import Entries
from estate.intake.finding import Found, find_tables
from estate.intake.grid import Grid, is_blank, words_of
from estate.intake.headings import Headings, lacking
from estate.intake.layout import nearest
from estate.intake.shape_words import shape_words
from estate.intake.table import EXPECTED
from estate.intake.view import NOTHING_SAID, Said
from estate.intake.words import Words, fold

_MONTHS_ACROSS = 3
"""So many months in one row are the header of visits across whose days are not told."""


@dataclass(slots=True)
class Sheets:
    """What the sheets of a file hold.

    Attributes:
        kind: of all its tables.
        entries: of each table, in the order of the sheets.
        questions: about sheets and parts of sheets that seem to hold entries but are not read.
    """

    kind: SheetKind
    entries: list[Entries] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


class Reader:
    """Finds the tables of a file's sheets.

    Args:
        words: the words of headings.
        kind: the kind asked for; None to find out.
        layouts: remembered ones.
        layout: one that is to be used.

    Raises:
        IntakeFault: the layout is of another kind than asked for, or names fields that are not known.
    """

    def __init__(
        self,
        words: Words,
        kind: SheetKind | None,
        layouts: Sequence[Layout] = (),
        layout: Layout | None = None,
    ) -> None:
        if layout is not None and kind not in (None, layout.kind):
            detail = phrase(
                "“{name}” is for {kind}, and {asked} were asked for.",
                name=layout.name,
                kind=phrase(layout.kind),
                asked=kind,
            )
            raise IntakeFault("The layout does not fit", detail, "Choose another layout or another kind.")
        asked = layout.kind if layout is not None else kind
        self.kinds = (asked,) if asked else (SheetKind.VISITS, SheetKind.ASSETS)
        self._asked, self._layout = asked, layout
        self._headings = {each: Headings(words, each, layouts, layout) for each in SheetKind}

    def understood(self, grid: Grid) -> tuple[int, int]:
        """How many columns a delimiter makes understood, then how many it makes at all."""
        near = [nearest(grid, self._headings[each]) for each in self.kinds]
        columns = max((len(table.places) for table in near if table), default=0)
        return columns, max(map(len, grid.rows), default=0)

    def read(self, grids: Sequence[Grid]) -> Sheets:
        """Find the tables of the sheets.

        Raises:
            IntakeFault: there is no table, there are tables of both kinds, or the layout that is to be used
                names headings that no table has.
        """
        grids = [grid for grid in grids if not is_added(words_of(grid.at(0, 0)))]
        visible = [grid for grid in grids if not grid.hidden]
        found = [(grid, self._find(grid, len(visible) > 1)) for grid in grids]
        shown = [entries for grid, each in found if not grid.hidden for entries in each.entries]
        if not shown:
            raise self._no_table(visible)
        kinds = dict.fromkeys((entries.table.grid.name, entries.table.kind) for entries in shown)
        if len({kind for _, kind in kinds}) > 1:
            detail = together(
                *(phrase("“{name}” holds {kind}", name=name, kind=phrase(kind)) for name, kind in kinds),
                between="; ",
            )
            remedy = phrase("Say which to bring in: assets or visits.")
            raise IntakeFault(
                "The workbook holds both kinds of sheet", phrase("{detail}.", detail=detail), remedy
            )
        self._check_layout(shown)
        sheets = Sheets(shown[0].table.kind, shown)
        for grid, each in found:
            sheets.questions += self._questions(grid, each, sheets.kind)
        return sheets

    def _find(self, grid: Grid, several: bool) -> Found:
        said = _said_by_name(grid) if several else NOTHING_SAID
        fault: IntakeFault | None = None
        for kind in self.kinds:
            try:
                found = find_tables(grid, self._headings[kind], said)
            except IntakeFault as doubled:
                fault = fault or doubled
                continue
            if found.entries:
                return found
        if fault is not None:
            raise fault
        return Found()

    def _check_layout(self, shown: Sequence[Entries]) -> None:
        if self._layout is None:
            return
        met = [column.heading for entries in shown for column in entries.table.columns]
        if missing := lacking(self._layout, met):
            named = ", ".join(f"“{heading}”" for heading in missing)
            there = ", ".join(f"“{heading}”" for heading in dict.fromkeys(met) if heading)
            raise IntakeFault(
                "The sheet does not fit the layout",
                phrase(
                    "“{name}” has headings that the file lacks: {named}. Headings there: {there}.",
                    name=self._layout.name,
                    named=named,
                    there=there,
                ),
                "Choose another layout, or read the sheet without one.",
            )

    def _questions(self, grid: Grid, found: Found, kind: SheetKind) -> list[Question]:
        if grid.hidden:
            remedy = phrase("Show the sheet if it is to be read, or delete it.")
            return [_about(grid, 0, "hidden-sheet", remedy)] if found.entries else []
        expected = EXPECTED[kind]
        if found.entries:
            remedy = phrase(
                "What stands from here on is not read. Expected: {expected}. Complete it, or leave it out.",
                expected=expected,
            )
            return [_about(grid, row, "unreadable-sheet", remedy) for row in found.unread]
        if not self._is_unread(grid):
            return []
        remedy = phrase(
            "No header was found in this sheet. Expected: {expected}. Put one in, or delete the sheet.",
            expected=expected,
        )
        return [_about(grid, 0, "unreadable-sheet", remedy)]

    def _is_unread(self, grid: Grid) -> bool:
        """Whether a sheet without a table of the kind asked for looks like one, and of no other kind."""
        wide = sum(sum(not is_blank(cell) for cell in row) >= 3 for row in grid.rows)
        others = [kind for kind in SheetKind if kind not in self.kinds]
        return wide >= 3 and not any(find_tables(grid, self._headings[kind]).entries for kind in others)

    def _no_table(self, grids: Sequence[Grid]) -> IntakeFault:
        if months := next((place for grid in grids if (place := self._months_across(grid))), ""):
            return IntakeFault(
                "The days of the visits are not told",
                phrase(
                    "{months} holds months over the columns: on which day was each outlet tested?",
                    months=months,
                ),
                "Write the whole day over each column, such as 17 Oct 2026.",
            )
        visits = self._headings[SheetKind.VISITS]
        for grid in grids if SheetKind.VISITS in self.kinds else ():
            if (row := days_alone(grid, visits)) is not None:
                return IntakeFault(
                    "What was measured is not told",
                    phrase(
                        "Sheet “{name}”, row {row} has days over its columns; nothing says of what.",
                        name=grid.name,
                        row=row + 1,
                    ),
                    "Write above them what was measured, such as: Mixed temperature as found °C.",
                )
        near = [
            table for grid in grids for each in self.kinds if (table := nearest(grid, self._headings[each]))
        ]
        if not near:
            sheets = ", ".join(f"“{grid.name}”" for grid in grids) or phrase("none")
            detail = phrase("Sheets to be seen: {sheets}; no row has two cells.", sheets=sheets)
            remedy = phrase("Bring in a file with one table of results or assets.")
            return IntakeFault("There is no table in the file", detail, remedy)
        best = max(near, key=lambda table: len(table.places))
        where = phrase("Sheet “{name}”, row {row}", name=best.grid.name, row=best.header[-1] + 1)
        headings = ", ".join(f"“{column.heading}”" for column in best.columns[:30])
        expected = together(
            *(
                phrase("for {kind}: {headings}", kind=phrase(each), headings=EXPECTED[each])
                for each in self.kinds
            ),
            between="; or ",
        )
        missing = best.missing or ("rows of data",)
        detail = phrase(
            "{where}: not found: {missing}. Headings there: {headings}.",
            where=where,
            missing=", ".join(missing),
            headings=headings,
        )
        return IntakeFault(
            "The columns needed are not there",
            detail,
            phrase("Expected {expected}. Name the headings so.", expected=expected),
        )

    def _months_across(self, grid: Grid) -> str:
        """Where months stand over columns, in words; empty where they do not."""
        months = self._headings[SheetKind.VISITS].words.months
        for row, cells in enumerate(grid.rows[:60]):
            texts = [fold(cell).split() for cell in cells if isinstance(cell, str)]
            if sum(bool(text) and text[0] in months for text in texts) >= _MONTHS_ACROSS:
                return f"Sheet “{grid.name}”, row {row + 1}"
        return ""


def _said_by_name(grid: Grid) -> dict[str, Said]:
    """The building that the name of a sheet tells; none where it is a name without a place."""
    pieces = fold(grid.name).split()
    plain = shape_words().plain_sheets
    told = [piece for piece in pieces if not piece.isdigit() and piece.rstrip("0123456789") not in plain]
    return {"building": Said(grid.name)} if told else {}


def _about(grid: Grid, row: int, code: str, remedy: str) -> Question:
    cells = [
        (column, cell)
        for column, cell in enumerate(grid.rows[row] if grid.rows else ())
        if not is_blank(cell)
    ]
    if row and cells:
        column, cell = cells[0]
        return Question(grid.name, row + 1, place_name(row, column), code, None, words_of(cell), remedy)
    return Question(grid.name, row + 1, place_name(row, 0), code, None, _first_words(grid), remedy)


def _first_words(grid: Grid) -> str:
    return next((words_of(cell) for row in grid.rows for cell in row if not is_blank(cell)), "")
