from pathlib import Path

import pytest

from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Choice
from estate.domain.valves import Valve
from estate.domain.visits import AttemptDraft
from estate.errors import NotFoundFault, ReportFault
from estate.operations import browse
from estate.operations.browse_batches import (
    batch_page,
    batches,
    original,
    save_original,
    write_original,
)
from estate.operations.register import Register
from estate.operations.show_sheets import show_kept
from estate.operations.undo_batch import undo_batch
from estate.store import attempts, places, valves, visits
from estate.store.transaction import Transaction
from tests.builders import TODAY
from tests.operations.conftest import NOW, VISITS, WHO, bring
from tests.operations.test_undo_batch import ASSET_BATCH, FURTHER, HEAD, VISIT_BATCH, history, write_batch
from tests.store.builders import SOURCE


def test_that_every_batch_is_listed_with_who_brought_it_in(register: Register) -> None:
    told = [(each.id, each.kind, each.file, each.accepted, each.who, each.at) for each in batches(register)]
    assert told == [
        (ASSET_BATCH, SheetKind.ASSETS, "assets.csv", 5, WHO, NOW),
        (VISIT_BATCH, SheetKind.VISITS, "visits.csv", 5, WHO, NOW),
    ]


def test_that_a_page_tells_each_row_with_its_place_in_the_file_and_what_rests_on_it(
    register: Register,
) -> None:
    page = batch_page(register, VISIT_BATCH)
    assert (page.batch.id, page.questions, page.answers) == (VISIT_BATCH, (), ())
    assert page.written[1] == "visits row 3: MM/G/G01/WHB1, visit of 23 Feb 2026"
    assert len(page.rows) == 5
    assert (page.followed_by, page.rests_on_it) == ((), ())
    assert len(batch_page(register, ASSET_BATCH).rests_on_it) == 4


def test_that_a_page_tells_questions_answers_and_follow_ups(register: Register, tmp_path: Path) -> None:
    good = "MM/G/G01/WHB1,2026-05-01,In-service,60,13,41,41,0"
    brought = bring(register, tmp_path, "\n".join([HEAD, good, good.replace("/G01/WHB1", "/X")]))
    assert brought.batch_id is not None
    given = (Answer("unknown-outlet", Choice.LEAVE_OUT),)
    follow = write_batch(register, lambda tx, made: None, follows=brought.batch_id, answers=given)
    page = batch_page(register, brought.batch_id)
    assert (page.questions, page.followed_by) == (brought.questions, (follow,))
    assert page.rests_on_it == (f"follow-up batch {follow} of 25 Nov 2026 took further rows of the file",)
    assert batch_page(register, follow).answers == given


def test_that_a_page_tells_attempts_corrections_and_changed_fields(register: Register) -> None:
    first = history(register, "MM/G/G01/WHB1")[0]

    def write(tx: Transaction, made: int) -> None:
        visits.add_visits(tx, [first.draft], made, {0: first.id})
        attempts.add_attempts(tx, [AttemptDraft(first.draft.outlet_id, TODAY, "no key", source=SOURCE)], made)
        attempts.add_attempts(tx, [AttemptDraft(first.draft.outlet_id, TODAY, "no key")], made)
        places.amend_outlet(tx, first.draft.outlet_id, pipe_m=None)
        valves.amend_valve(tx, first.draft.valve_id, serial="A15-1B", set_c=43.0)
        valves.add_valve(tx, Valve(0, "Make D", "D1", "D-1"))

    assert batch_page(register, write_batch(register, write)).written == (
        "visits row 3: MM/G/G01/WHB1, visit of 23 Feb 2026, a correction",
        "round row 7: MM/G/G01/WHB1, attempted visit of 25 Nov 2026",
        "MM/G/G01/WHB1, attempted visit of 25 Nov 2026",
        "MM/G/G01/WHB1, blended pipe (m) 1.2 became blank",
        "MM/G/G01/WHB1, serial A15-1 became A15-1B, set temperature (°C) 41.0 became 43.0",
        "valve added",
    )


def test_that_the_page_of_an_undone_batch_still_tells_what_it_had_written(
    register: Register, tmp_path: Path
) -> None:
    batch = bring(register, tmp_path, FURTHER).batch_id
    assert batch is not None
    for undone in (batch, VISIT_BATCH):
        undo_batch(register, undone, who=WHO, at=NOW, today=TODAY, why="wrong")
    page = batch_page(register, batch)
    assert page.batch.undone is not None
    assert {each.words for each in page.rows} == {
        "MM/G/G02/WHB9, outlet added (void)",
        "MM/2/201/WHB1, outlet added (void)",
        "valve added (void)",
    }
    assert batch_page(register, VISIT_BATCH).written[1].endswith("visit of 23 Feb 2026 (void)")


def test_that_a_valve_of_an_asset_list_goes_by_its_outlet(register: Register) -> None:
    told = batch_page(register, ASSET_BATCH).written
    assert told[:2] == ("MM/G/G01/WHB1, valve added", "MM/G/G01/WHB1, outlet added")
    assert len(told) == 9


def test_that_an_unknown_batch_has_no_page(register: Register) -> None:
    with pytest.raises(NotFoundFault, match="batch 99"):
        batch_page(register, 99)


def test_that_the_file_comes_out_as_it_came_in_under_its_name(register: Register, tmp_path: Path) -> None:
    path = write_original(register, VISIT_BATCH, tmp_path / "out" / "deep")
    assert (path.name, path.read_bytes()) == ("visits.csv", VISITS.encode())
    assert write_original(register, VISIT_BATCH, path.parent) == path
    assert original(register, VISIT_BATCH) == path.read_bytes()


def test_that_another_file_of_the_name_is_never_written_over(register: Register, tmp_path: Path) -> None:
    other = tmp_path / "out" / "visits.csv"
    other.parent.mkdir()
    other.write_text("mine")
    with pytest.raises(ReportFault, match="There is another file of that name"):
        write_original(register, VISIT_BATCH, other.parent)
    assert other.read_text() == "mine"


def test_that_a_folder_that_cannot_be_written_is_told(register: Register, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(ReportFault, match="The file can't be written"):
        write_original(register, VISIT_BATCH, tmp_path / "file" / "out")


@pytest.mark.parametrize(
    ("name", "written"),
    [("..\\..\\Windows\\round.xlsx", "round.xlsx"), ("../../etc/round.xlsx", "round.xlsx"), ("/", "batch 3")],
)
def test_that_a_name_with_folders_in_it_leads_nowhere_else(
    register: Register, tmp_path: Path, name: str, written: str
) -> None:
    batch = write_batch(register, lambda tx, made: None, file=name)
    path = write_original(register, batch, tmp_path / "out")
    assert path == tmp_path / "out" / written
    assert path.read_bytes() == b"x"
    assert browse.find_outlet(register, "MM/G/G01/WHB1").id


def test_that_a_file_is_saved_where_the_person_says_and_a_place_that_is_not_there_is_told(
    register: Register, tmp_path: Path
) -> None:
    to = save_original(register, VISIT_BATCH, tmp_path / "as it came.csv")
    assert to.read_bytes() == original(register, VISIT_BATCH)
    with pytest.raises(ReportFault, match="can't be written"):
        save_original(register, VISIT_BATCH, tmp_path / "nowhere" / "as it came.csv")


def test_that_a_kept_file_is_shown_at_the_rows_that_entries_came_from(register: Register) -> None:
    (sheet,) = show_kept(register, VISIT_BATCH)
    with register.database.reading() as session:
        came = [each.draft.source for each in visits.visits_of_batch(session, VISIT_BATCH)]
    assert came
    for source in came:
        assert source is not None
        assert source.sheet == sheet.name
        assert {cell for _, cell in source.cells if cell} <= set(sheet.rows[source.row - 1])
    with pytest.raises(NotFoundFault):
        show_kept(register, 9_999)
