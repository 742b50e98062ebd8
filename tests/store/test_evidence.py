"""The database itself refuses to change or delete evidence, whoever asks."""

import pytest
from sqlalchemy import Connection, create_engine, text
from sqlalchemy.exc import DBAPIError

from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.domain.rules.values import Override
from estate.domain.visits import AttemptDraft
from estate.store import aliases, attempts, batches, fits, judgements, rules, valves, visits
from estate.store.batch_schema import AliasRow, BatchRow, BatchUndoRow, WrittenRow
from estate.store.columns import Row
from estate.store.database import Database
from estate.store.document_schema import DocumentContentRow, DocumentRow, DocumentVoidRow
from estate.store.life_schema import (
    ActionEventRow,
    ActionRow,
    CareRow,
    CompetenceRow,
    OutletEventRow,
    OutletReviewRow,
    SurveyRow,
    VisitCheckRow,
    VisitJustificationRow,
    VisitPartRow,
)
from estate.store.schema import EVIDENCE, GroupFitRow, LedgerEntryRow, RuleOverrideRow
from estate.store.transaction import writing
from estate.store.trust_schema import CheckpointRow, PersonKeyRow, SignatureRow
from estate.store.visit_schema import (
    AttemptRow,
    AttemptVoidRow,
    FindingRow,
    JudgementRow,
    VisitRow,
    VisitVoidRow,
)
from tests.store.builders import DAY, JUDGED, NOW, add_basin, draft
from tests.store.life_rows import add_life
from tests.store.test_fits import FIT

CLASSES: list[type[Row]] = [
    *(
        VisitRow,
        VisitVoidRow,
        JudgementRow,
        FindingRow,
        AttemptRow,
        AttemptVoidRow,
        BatchRow,
        WrittenRow,
        BatchUndoRow,
        AliasRow,
        RuleOverrideRow,
        GroupFitRow,
        LedgerEntryRow,
        PersonKeyRow,
        SignatureRow,
        CheckpointRow,
        DocumentContentRow,
        DocumentRow,
        DocumentVoidRow,
    ),
    *(
        ActionRow,
        ActionEventRow,
        OutletEventRow,
        VisitCheckRow,
        VisitPartRow,
        VisitJustificationRow,
        CompetenceRow,
        CareRow,
        OutletReviewRow,
        SurveyRow,
    ),
]


@pytest.fixture
def filled(database: Database) -> Database:
    """A register with a row in every table of evidence."""
    with writing(database, "A. Officer", "filled it", NOW) as tx:
        basin = add_basin(tx)
        question = Question("s", 2, "A2", "no-access", None, "", "Go again.")
        batch_id = batches.add_batch(
            tx,
            file="f.csv",
            digest="ab",
            kind=SheetKind.VISITS,
            content=b"x",
            read=2,
            accepted=1,
            already_there=0,
            questions=[question],
        )
        valves.amend_valve(tx, basin.valve_id, set_c=42.0)
        aliases.add_alias(tx, "the basin", basin.outlet_id, batch_id)
        attempts.add_attempts(tx, [AttemptDraft(basin.outlet_id, DAY, "no access")], batch_id)
        attempts.void_attempts_of_batch(tx, batch_id, "wrong outlet")
        batches.mark_undone(tx, batch_id, "wrong file")
        entry = visits.add_visits(tx, [draft(basin)], batch_id)[0]
        judgements.add_judgement(tx, entry.id, JUDGED)
        add_life(tx, basin, entry.id)
        visits.void_visit(tx, entry.id, "wrong outlet")
        rules.add_override(tx, Override("r", "k", "estate", 1.0, "A. Officer", NOW, "why"))
        fits.add_fits(tx, [FIT])
        key = PersonKeyRow(
            person="A. Officer", key="00", fingerprint="00", made_at=NOW, added_by="A. Officer", at=NOW
        )
        key_id = tx.insert(key)
        signed = {"digest": "00", "signature": "00", "role": "signed", "at": NOW, "who": "A. Officer"}
        tx.insert(SignatureRow(noun="visit", row_id=entry.id, person_key_id=key_id, **signed))
        tx.insert(CheckpointRow(at=NOW, who="A. Officer", last_entry_id=1, digest="00", entries=1))
        tx.insert(DocumentContentRow(sha256="ab", content=b"x"))
        kept = {"media_type": "text/plain", "size_bytes": 1, "sha256": "ab", "at": NOW, "who": "A. Officer"}
        document_id = tx.insert(DocumentRow(noun="visit", row_id=entry.id, name="x.txt", **kept))
        tx.insert(DocumentVoidRow(document_id=document_id, who="A. Officer", at=NOW, why="another basin"))
    return database


def _refused(database: Database, statement: str) -> bool:
    engine = create_engine(database.url)
    try:
        with engine.begin() as connection:
            connection.execute(text(statement))
    except DBAPIError as error:
        return "evidence is never changed or deleted" in str(error)
    finally:
        engine.dispose()
    return False


def _rows(database: Database) -> dict[str, int]:
    with database.reading() as session:
        connection: Connection = session.connection()
        return {
            table: connection.execute(text(f"SELECT count(*) FROM {table}")).scalar_one()
            for table in sorted(EVIDENCE)
        }


@pytest.mark.parametrize("table", sorted(EVIDENCE))
def test_that_the_database_refuses_to_change_or_delete_evidence(filled: Database, table: str) -> None:
    before = _rows(filled)
    assert before[table] > 0
    assert _refused(filled, f"UPDATE {table} SET id = id")
    assert _refused(filled, f"DELETE FROM {table}")
    assert _rows(filled) == before


def test_that_the_database_takes_changes_of_what_is_not_evidence(filled: Database) -> None:
    engine = create_engine(filled.url)
    with engine.begin() as connection:
        changed = connection.execute(text("UPDATE valve SET serial = 'other'")).rowcount
    engine.dispose()
    assert changed == 1


@pytest.mark.parametrize("table", sorted(EVIDENCE))
def test_that_evidence_is_not_written_over_or_emptied(filled: Database, table: str) -> None:
    before = _rows(filled)
    if filled.url.startswith("sqlite"):
        assert _refused(filled, f"INSERT OR REPLACE INTO {table} SELECT * FROM {table} WHERE id = 1")
    else:
        assert _refused(filled, f"TRUNCATE {table} CASCADE")
    assert _rows(filled) == before


@pytest.mark.parametrize(
    "table", ["visit_void", "attempt_void", "batch_undo", "document_content", "document_void"]
)
def test_that_evidence_is_not_replaced_by_a_row_of_another_number(filled: Database, table: str) -> None:
    if not filled.url.startswith("sqlite"):
        return  # where there is no REPLACE
    before = _rows(filled)
    with filled.reading() as session:
        columns = session.execute(text(f"SELECT * FROM {table}")).keys()
    others = ", ".join(each for each in columns if each != "id")
    assert _refused(filled, f"INSERT OR REPLACE INTO {table} (id, {others}) SELECT 99, {others} FROM {table}")
    assert _rows(filled) == before


@pytest.mark.parametrize("row_class", CLASSES)
def test_that_a_transaction_refuses_to_amend_evidence(filled: Database, row_class: type[Row]) -> None:
    with (
        pytest.raises(ValueError, match="evidence is never changed"),
        writing(filled, "A. Officer", "tried", NOW) as tx,
    ):
        tx.amend(row_class, 1, who="somebody else")


@pytest.mark.parametrize("row_class", CLASSES)
def test_that_a_transaction_refuses_to_remove_evidence(filled: Database, row_class: type[Row]) -> None:
    with (
        pytest.raises(ValueError, match="evidence is never removed"),
        writing(filled, "A. Officer", "tried", NOW) as tx,
    ):
        tx.remove(row_class, 1)
