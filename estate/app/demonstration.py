"""The main job on the sample estate, without a display: a contractor's sheet becomes due dates on paper."""

from collections.abc import Iterator
from pathlib import Path

from estate.app.exhibits import offscreen, put_away, round_for, sample_now, staged
from estate.operations.bring_in import commit, look
from estate.operations.open_register import open_register
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from estate.operations.write_report import write_overdue
from estate.sample import SAMPLE_TODAY, build_sample
from estate.window.pictures.place_scenes import due
from estate.window.pictures.stage import Stage
from estate.window.pictures.taking import take
from estate.window.tasks import Straight

_WHO = "E. Marlow"


def demonstrate(folder: Path) -> Iterator[str]:
    """Bring in a sheet, plan, write the overdue list as PDF and spreadsheet, and picture the window.

    Args:
        folder: where everything goes; files of an earlier demonstration are replaced.

    Yields:
        A line for each thing done, with where it is.
    """
    folder.mkdir(parents=True, exist_ok=True)
    where = folder / "demonstration.db"
    for old in (where, where.with_suffix(".db-wal"), where.with_suffix(".db-shm")):
        old.unlink(missing_ok=True)
    build_sample(where)
    yield f"The sample estate, all of it invented: {where}"
    sheet = round_for(where, folder / "contractors-round.csv")
    yield f"A contractor's sheet: {sheet}"
    register = open_register(where)
    try:
        yield from _main_job(register, sheet, folder)
    finally:
        register.close()
    yield f"The window: {_picture(where, sheet, folder / 'window.png')}"


def _main_job(register: Register, sheet: Path, folder: Path) -> Iterator[str]:
    before = _overdue(register)
    brought = commit(register, look(register, sheet, None, SAMPLE_TODAY), who=_WHO, at=sample_now())
    yield f"Brought in as one batch: {brought.accepted} rows taken, {len(brought.questions)} questioned:"
    for each in brought.questions:
        yield f"  row {each.row}, cell {each.cell}: {each.code}: {each.found}. {each.remedy}"
    yield f"Planned anew as at {SAMPLE_TODAY}: overdue before {before}, now {_overdue(register)}"
    for name in ("overdue.pdf", "overdue.xlsx"):
        yield f"The overdue list: {write_overdue(register, folder / name, SAMPLE_TODAY)}"


def _overdue(register: Register) -> int:
    return sum(line.overdue for line in due_lines(register, SAMPLE_TODAY))


def _picture(where: Path, sheet: Path, to: Path) -> Path:
    with Straight() as executor:
        built = staged(offscreen(), executor, where, "light", 1280, 800)
        take(Stage(built.window, sheet), due, to)
        put_away(built)
    return to
