"""What a round sheet offers and says when a cell is chosen; it warns of a slip and refuses nothing."""

from collections.abc import Iterable, Mapping

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from estate.domain.field_limits import FieldLimit
from estate.reports.round_columns import Holds, Part, RoundColumn
from estate.reports.round_sheet import RoundSheet

LISTS = "Lists"
_MOST_AREAS = 200
"""Areas of one check; more are parted, for programs that read no longer list."""

_LONGEST_PROMPT = 255
_LONGEST_TITLE = 32
_FIRST_DAY = "36526"
"""1 Jan 2000 as spreadsheets count days."""


def checks(round_: RoundSheet, first: int) -> Iterable[DataValidation]:
    """Every check of a sheet's entry columns.

    Args:
        round_: the sheet.
        first: 1-based row of the first outlet.
    """
    for number, column in enumerate(round_.columns, start=1):
        if column.part is Part.ENTRY:
            letter = get_column_letter(number)
            for limit, rows in _rows_by_limit(round_, column, first).items():
                areas = [f"{letter}{start}:{letter}{end}" for start, end in _runs(rows)]
                for begin in range(0, len(areas), _MOST_AREAS):
                    check = _check(column, round_.lists)
                    _tell(check, column, limit)
                    for area in areas[begin : begin + _MOST_AREAS]:
                        check.add(area)
                    yield check


def _rows_by_limit(
    round_: RoundSheet, column: RoundColumn, first: int
) -> Mapping[FieldLimit | None, list[int]]:
    found: dict[FieldLimit | None, list[int]] = {}
    for row, line in enumerate(round_.lines, start=first):
        found.setdefault(line.limits.get(column.name), []).append(row)
    return found


def _runs(rows: list[int]) -> Iterable[tuple[int, int]]:
    """First and last of each run of neighbours among some rows."""
    start = rows[0]
    for row, following in zip(rows, [*rows[1:], 0], strict=True):
        if following != row + 1:
            yield start, row
            start = following


def _check(column: RoundColumn, lists: Mapping[str, tuple[str, ...]]) -> DataValidation:
    if column.holds is Holds.NUMBER:
        check = DataValidation("decimal", f"{column.lowest:g}", f"{column.highest:g}", operator="between")
    elif column.holds is Holds.DATE:
        check = DataValidation("date", _FIRST_DAY, operator="greaterThanOrEqual")
    elif column.holds is Holds.ANSWER:
        check = DataValidation("list", f'"{",".join(column.answers)}"')
    elif column.holds is Holds.LISTED and lists[column.answers[0]]:
        letter = get_column_letter(list(lists).index(column.answers[0]) + 1)
        check = DataValidation("list", f"{LISTS}!${letter}$1:${letter}${len(lists[column.answers[0]])}")
    else:
        check = DataValidation()
    check.allowBlank = True
    check.errorStyle = "warning"
    check.showErrorMessage = column.holds in (Holds.NUMBER, Holds.DATE, Holds.ANSWER)
    return check


def _tell(check: DataValidation, column: RoundColumn, limit: FieldLimit | None) -> None:
    said = (
        f"Limit here: {limit.words}. {column.hint} Source: {'; '.join(limit.sources)}"
        if limit
        else column.hint
    )
    check.showInputMessage = True
    check.promptTitle = column.title[:_LONGEST_TITLE]
    check.prompt = said if len(said) <= _LONGEST_PROMPT else said[: _LONGEST_PROMPT - 1] + "…"
    check.errorTitle = "Is this right?"
    check.error = _WARNINGS.get(column.holds, "").format(column=column)


_WARNINGS = {
    Holds.NUMBER: "Usual is a number from {column.lowest:g} to {column.highest:g}. Keep it if so read.",
    Holds.DATE: "This is no day that the sheet knows. Write it such as 25 Nov 2026.",
    Holds.ANSWER: "This is none of the answers offered. Keep it only if none of them fits.",
}
