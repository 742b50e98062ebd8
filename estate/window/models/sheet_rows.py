"""Columns of a sheet before it is taken: rows with their verdicts, questions, headings understood."""

from collections.abc import Callable
from dataclasses import dataclass

from estate.domain.intake import AssetRow
from estate.domain.questions import CHOICE_WORDS, Answer, Question
from estate.domain.visits import Readings
from estate.window import words
from estate.window.desk import Proposal, ProposedVisit
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.answering import Answering
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr


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
    return cells.text(
        tr("{sheet}, row {row}", sheet=source.sheet, row=source.row) if source is not None else ""
    )


VISIT_COLUMNS: tuple[Column[ProposedVisit], ...] = (
    Column(
        said("Verdict"),
        lambda row: cells.verdict(row.judgement.verdict),
        "take out of use",
        marked=True,
        id="verdict",
    ),
    Column(said("Outlet"), lambda row: cells.text(row.ref), "WW/WW/W00/WHB1", id="outlet"),
    Column(said("Date"), lambda row: cells.on_day(row.draft.on), "25 Nov 2026", id="date"),
    Column(said("Kind"), lambda row: cells.text(tr(row.draft.kind.value)), "in-service test", id="kind"),
    _reading(said("Hot\n°C"), lambda readings: readings.hot_c),
    _reading(said("Cold\n°C"), lambda readings: readings.cold_c),
    _reading(said("Found\n°C"), lambda readings: readings.found_c),
    _reading(said("Left\n°C"), lambda readings: readings.left_c),
    _reading(said("Cold off\nmax °C"), lambda readings: readings.cold_isolated.max_c),
    _reading(said("Still flows\nml/min"), lambda readings: readings.cold_isolated.residual_ml_min, None),
    _reading(said("Shut\ns"), lambda readings: readings.cold_isolated.shut_s),
    Column(
        said("Worst finding"),
        _worst,
        "Changed by +1.2 K since the previous",
        stretches=True,
        id="worst-finding",
    ),
    Column(said("Row in the file"), _place, "Sheet1, row 1000", id="row-in-the-file"),
)

ASSET_COLUMNS: tuple[Column[AssetRow], ...] = (
    Column(said("Outlet"), lambda row: cells.text(row.reference), "WW/WW/W00/WHB1", id="outlet"),
    Column(said("Site"), lambda row: cells.text(row.site), "Marlpit Cross Hospital", id="site"),
    Column(said("Building"), lambda row: cells.text(row.building), "Main building", id="building"),
    Column(said("Level"), lambda row: cells.text(row.level), "Ground", id="level"),
    Column(
        said("Room"),
        lambda row: cells.text(f"{row.room_number} {row.room}".strip()),
        "W00 Assisted bath",
        id="room",
    ),
    Column(said("Serves"), lambda row: cells.text(row.outlet), "Basin by the door", id="serves"),
    Column(said("Use"), lambda row: cells.text(tr(row.use.value)), "assisted bath", id="use"),
    Column(said("Users"), lambda row: cells.text(tr(row.user_group.value)), "dependent people", id="users"),
    Column(
        said("Valve"),
        lambda row: cells.text(f"{row.make} {row.model} {row.serial}".strip()),
        "Make Model 00000",
        id="valve",
    ),
    Column(said("Set\n°C"), lambda row: cells.figure(row.set_c, 1), "41.0 ", id="set"),
    Column(said("Fitted"), lambda row: cells.on_day(row.fitted_on), "25 Nov 2026", id="fitted"),
    Column(
        said("Row"),
        lambda row: cells.text(tr("{sheet}, row {row}", sheet=row.source.sheet, row=row.source.row)),
        "Assets, row 1000",
        id="row",
    ),
)

_MARKS = {"no-access": Mark.RING, "duplicate-row": Mark.DASH}


def _asked(row: Question) -> Cell:
    asked = tr(row.code.replace("-", " "))
    return Cell(asked, asked, _MARKS.get(row.code, Mark.HALF))


def question_columns(answering: Answering) -> tuple[Column[Question], ...]:
    """Columns of the questions, with the answers given so far."""

    def answer(row: Question) -> Cell:
        given = answering.answer_to(row)
        return cells.text("" if given is None else answer_words(given))

    return (
        Column(said("Sheet"), lambda row: cells.text(row.sheet), "contractors", id="sheet"),
        Column(said("Row"), lambda row: cells.figure(row.row, 0), "1,000 ", id="row"),
        Column(said("Cell"), lambda row: cells.text(row.cell), "AA1000", id="cell"),
        Column(said("Question"), _asked, "implausible value  ", marked=True, id="question"),
        Column(
            said("Outlet"), lambda row: cells.text(row.ref or tr("not known")), "WW/WW/W00/WHB1", id="outlet"
        ),
        Column(said("Found"), lambda row: cells.text(row.found), "a cell's content", id="found"),
        Column(said("Answer"), answer, "Leave the row out", id="answer"),
        Column(
            said("What to do"),
            lambda row: cells.text(tr(row.remedy)),
            "What to do now",
            stretches=True,
            id="what-to-do",
        ),
    )


def answer_words(answer: Answer) -> str:
    """An answer in words."""
    told = tr(CHOICE_WORDS[answer.choice])
    return f"{told}: {answer.value}" if answer.value else told


@dataclass(frozen=True, slots=True)
class Effect:
    """What taking a sheet would change beside its rows, or what is worth knowing.

    Attributes:
        where: sheet and row; empty for what is not in the sheet.
    """

    what: str
    outlet: str
    now: str
    then: str
    where: str


EFFECT_COLUMNS: tuple[Column[Effect], ...] = (
    Column(said("What"), lambda row: cells.text(row.what), "kept as an attempted visit", id="what"),
    Column(said("Outlet"), lambda row: cells.text(row.outlet), "WW/WW/W00/WHB1", id="outlet"),
    Column(
        said("In the register"), lambda row: cells.text(row.now), "dependent people", id="in-the-register"
    ),
    Column(
        said("Then"), lambda row: cells.text(row.then), "no access, room occupied", stretches=True, id="then"
    ),
    Column(
        said("Row in the file"), lambda row: cells.text(row.where), "Sheet1, row 1000", id="row-in-the-file"
    ),
)


def effects_of(proposal: Proposal) -> tuple[Effect, ...]:
    """Changes of outlets and valves, attempted visits, and what is worth saying of rows that are taken."""
    changed = [
        Effect(
            tr("{field} changes", field=each.field),
            each.ref,
            each.before,
            each.after,
            _row(each.sheet, each.row_number),
        )
        for each in proposal.changes
    ]
    tried = [
        Effect(
            tr("kept as an attempted visit"),
            each.ref,
            "",
            f"{words.day(each.row.on)}: {each.row.why}",
            _row(each.row.source.sheet, each.row.source.row),
        )
        for each in proposal.attempts
    ]
    said = [
        Effect(
            tr(each.code.replace("-", " ")),
            each.ref or "",
            tr(each.found),
            tr(each.remedy),
            _row(each.sheet, each.row),
        )
        for each in proposal.notes
    ]
    return (*changed, *tried, *said)


def _row(sheet: str, row: int) -> str:
    return tr("{sheet}, row {row}", sheet=sheet, row=row) if row else sheet


def visits_model() -> TableModel[ProposedVisit]:
    """Results that would be taken."""
    return TableModel(VISIT_COLUMNS, lambda row: row.draft.source.row if row.draft.source else 0)


def assets_model() -> TableModel[AssetRow]:
    """Outlets that would be added."""
    return TableModel(ASSET_COLUMNS, lambda row: row.source.row)


def questions_model(answering: Answering) -> TableModel[Question]:
    """What is asked about the sheet."""
    return TableModel(question_columns(answering), lambda row: row.row)


def effects_model() -> TableModel[Effect]:
    """What else would change."""
    return TableModel(EFFECT_COLUMNS, lambda row: 0)
