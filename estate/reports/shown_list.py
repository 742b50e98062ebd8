"""A list of the window as a document: what is shown of it, and what was asked for."""

from datetime import date

from estate.domain.register import AsAt
from estate.domain.shown_list import ShownCell, ShownColumn, ShownList
from estate.reports.document import Cell, Column, Document, Fact, Group, Kind, Row, Section, Table
from estate.reports.wording import CAUTIONS, basis, identity_facts, number_words

_LINE = 100.0
_LONGEST = 40


def shown_list(shown: ShownList, as_at: AsAt) -> Document:
    """Say what a list shows.

    Args:
        shown: the list as it stands on the screen.
        as_at: the day and the register.
    """
    return Document(
        title=shown.title,
        register=as_at.register.name,
        as_at=as_at.today,
        basis=basis(as_at),
        facts=(*narrowed_facts(shown), *identity_facts(as_at)),
        cautions=CAUTIONS,
        sections=(Section(shown.title, (_MISSING,), _table(shown)),),
        known_at=as_at.known_at,
    )


_MISSING = "An empty cell says that nothing is on record there; what was not measured was not tested."


def narrowed_facts(shown: ShownList) -> tuple[Fact, ...]:
    """How many lines are shown of how many, and which."""
    asked = Fact("Only", "; ".join(shown.narrowed)) if shown.narrowed else None
    grouped = Fact("Grouped by", shown.grouped_by) if shown.grouped_by else None
    lines = Fact("Lines", f"{number_words(shown.count)} of {number_words(shown.held)}")
    return tuple(each for each in (lines, asked, grouped) if each is not None)


def _table(shown: ShownList) -> Table:
    rows = list(shown.rows())
    rooms = [_room(column, [row[place] for row in rows]) for place, column in enumerate(shown.columns)]
    columns = tuple(
        _column(column, [row[place] for row in rows], rooms[place] * _LINE / sum(rooms))
        for place, column in enumerate(shown.columns)
    )
    groups = tuple(
        Group(
            (group.words,) if shown.grouped_by else (),
            tuple(Row(tuple(_cell(each) for each in row)) for row in group.rows),
        )
        for group in shown.groups
    )
    return Table(shown.title, columns, groups, (shown.grouped_by,) if shown.grouped_by else ())


def _room(column: ShownColumn, cells: list[ShownCell]) -> float:
    """How much of the line a column needs: the longest word of its heading, or its cells up to what wraps."""
    heading = max((len(word) for word in column.title.split()), default=1)
    longest = max((len(cell.words) for cell in cells), default=1)
    return float(max(heading, min(_LONGEST, longest)))


def _column(column: ShownColumn, cells: list[ShownCell], room: float) -> Column:
    told = [cell for cell in cells if cell.value is not None]
    if any(isinstance(cell.value, date) for cell in told):
        return Column(column.title, room, Kind.DATE)
    if told:
        places = [cell.decimals for cell in told]
        most = None if None in places else max(each for each in places if each is not None)
        return Column(column.title, room, Kind.NUMBER, decimals=most)
    return Column(column.title, room, Kind.MARK if any(cell.mark for cell in cells) else Kind.TEXT)


def _cell(cell: ShownCell) -> Cell:
    """A number or a day as such, anything else in words."""
    return (cell.words or None) if cell.value is None else cell.value
