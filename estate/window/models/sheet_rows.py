"""Columns of a sheet before it is taken: rows with their verdicts, questions, headings understood."""

from collections.abc import Callable

from estate.domain.intake import AssetRow
from estate.domain.questions import Question
from estate.domain.visits import Readings
from estate.window import words
from estate.window.desk import ProposedVisit
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

Heading = tuple[str, str, str]


def _reading(
    title: str, of: Callable[[Readings], float | None], decimals: int | None = 1
) -> Column[ProposedVisit]:
    return Column(title, lambda row: cells.figure(of(row.draft.readings), decimals), "60.00")


def _worst(row: ProposedVisit) -> Cell:
    findings = row.judgement.findings
    if findings:
        return cells.text(words.sentence(findings[0].words), "\n".join(each.words for each in findings))
    required = [each for each in row.judgement.not_tested if each.required]
    return cells.text(words.sentence(required[0].words) if required else "")


def _place(row: ProposedVisit) -> Cell:
    source = row.draft.source
    return cells.text(f"{source.sheet}, row {source.row}" if source is not None else "")


VISIT_COLUMNS: tuple[Column[ProposedVisit], ...] = (
    Column("Verdict", lambda row: cells.verdict(row.judgement.verdict), "take out of use", marked=True),
    Column("Outlet", lambda row: cells.text(row.ref), "WW/WW/W00/WHB1"),
    Column("Date", lambda row: cells.on_day(row.draft.on), "25 Nov 2026"),
    Column("Kind", lambda row: cells.text(row.draft.kind.value), "in-service test"),
    _reading("Hot\n°C", lambda readings: readings.hot_c),
    _reading("Cold\n°C", lambda readings: readings.cold_c),
    _reading("Found\n°C", lambda readings: readings.found_c),
    _reading("Left\n°C", lambda readings: readings.left_c),
    _reading("Cold off\nmax °C", lambda readings: readings.cold_isolated.max_c),
    _reading("Still flows\nml/min", lambda readings: readings.cold_isolated.residual_ml_min, None),
    _reading("Shut\ns", lambda readings: readings.cold_isolated.shut_s),
    Column("Worst finding", _worst, "Changed by +1.2 K since the previous", stretches=True),
    Column("Row in the file", _place, "Sheet1, row 1000"),
)

ASSET_COLUMNS: tuple[Column[AssetRow], ...] = (
    Column("Outlet", lambda row: cells.text(row.reference), "WW/WW/W00/WHB1"),
    Column("Site", lambda row: cells.text(row.site), "Marlpit Cross Hospital"),
    Column("Building", lambda row: cells.text(row.building), "Main building"),
    Column("Level", lambda row: cells.text(row.level), "Ground"),
    Column("Room", lambda row: cells.text(f"{row.room_number} {row.room}".strip()), "W00 Assisted bath"),
    Column("Serves", lambda row: cells.text(row.outlet), "Basin by the door"),
    Column("Use", lambda row: cells.text(row.use.value), "assisted bath"),
    Column("Users", lambda row: cells.text(row.user_group.value), "dependent people"),
    Column(
        "Valve", lambda row: cells.text(f"{row.make} {row.model} {row.serial}".strip()), "Make Model 00000"
    ),
    Column("Set\n°C", lambda row: cells.figure(row.set_c, 1), "41.0 "),
    Column("Fitted", lambda row: cells.on_day(row.fitted_on), "25 Nov 2026"),
    Column("Row", lambda row: cells.text(f"{row.source.sheet}, row {row.source.row}"), "Assets, row 1000"),
)

_MARKS = {"no-access": Mark.RING, "duplicate-row": Mark.DASH}


def _asked(row: Question) -> Cell:
    asked = row.code.replace("-", " ")
    return Cell(asked, asked, _MARKS.get(row.code, Mark.HALF))


QUESTION_COLUMNS: tuple[Column[Question], ...] = (
    Column("Sheet", lambda row: cells.text(row.sheet), "contractors-round"),
    Column("Row", lambda row: cells.figure(row.row, 0), "1,000 "),
    Column("Cell", lambda row: cells.text(row.cell), "AA1000"),
    Column("Question", _asked, "implausible value  ", marked=True),
    Column("Outlet", lambda row: cells.text(row.ref or "not known"), "WW/WW/W00/WHB1"),
    Column("Found", lambda row: cells.text(row.found), "a cell's content in words"),
    Column("What to do", lambda row: cells.text(row.remedy), "What to do now about it", stretches=True),
)


HEADING_COLUMNS: tuple[Column[Heading], ...] = (
    Column("Sheet", lambda row: cells.text(row[0]), "Main building"),
    Column("Heading in the file", lambda row: cells.text(row[1]), "Max after cold off, in the file"),
    Column("Taken as", lambda row: cells.text(row[2]), "cold_isolated.residual_ml_min", stretches=True),
)


def visits_model() -> TableModel[ProposedVisit]:
    """Results that would be taken."""
    return TableModel(VISIT_COLUMNS, lambda row: 0)


def assets_model() -> TableModel[AssetRow]:
    """Outlets that would be added."""
    return TableModel(ASSET_COLUMNS, lambda row: 0)


def questions_model() -> TableModel[Question]:
    """Rows that would not be taken."""
    return TableModel(QUESTION_COLUMNS, lambda row: row.row)


def headings_model() -> TableModel[Heading]:
    """Headings that were understood."""
    return TableModel(HEADING_COLUMNS, lambda row: 0)
