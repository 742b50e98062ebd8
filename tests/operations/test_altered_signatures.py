"""What a signature covers, changed past the program, shows; and anyone can check it by the page."""

import json
import shutil
import sqlite3
from base64 import b64decode
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from estate.domain.signatures import SignedNoun, SigningState
from estate.domain.trust import Misfit
from estate.domain.visits import VisitKind
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations.browse_signatures import signing_of, write_proof
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.type_visit import TypedVisit, draft_of
from estate.operations.verify_register import verify
from estate.store import keys as crypto
from estate.store.key_files import open_key
from estate.store.signature_misfits import signature_misfits
from estate.store.signatures import add_signatures
from estate.store.statements import SIGNATURE, digest_of, statement, told_rows
from estate.store.statements import Signer as Signing
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring
from tests.operations.signers import PASSPHRASE, Signer, signer

VISIT, BATCH, FIRST, SECOND, OF_BATCH = 1, 2, 1, 2, 3


@dataclass(frozen=True)
class Subject:
    """A register, and who signed in it."""

    file: Path
    thorne: Signer


@pytest.fixture(scope="module")
def subject(tmp_path_factory: pytest.TempPathFactory) -> Subject:
    """A register in which visit 1 is signed and countersigned, and batch 2 is signed."""
    folder = tmp_path_factory.mktemp("signed")
    file = folder / "register.db"
    register = new_register(file, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS + "WE/G/G01/WHB1,2026-01-05,no access,,,,,\n", "visits.csv")
    thorne, officer = signer(register, folder, "A. Thorne"), signer(register, folder, "E. Marlow")
    thorne.signs(register, VISIT)
    officer.countersigns(register, VISIT)
    thorne.signs(register, BATCH, noun=SignedNoun.BATCH)
    register.close()
    return Subject(file, thorne)


@pytest.fixture
def copy(subject: Subject, tmp_path: Path) -> Iterator[Register]:
    shutil.copy(subject.file, tmp_path / "copy.db")
    register = open_register(tmp_path / "copy.db")
    yield register
    register.close()


def connected(register: Register) -> closing[sqlite3.Connection]:
    return closing(sqlite3.connect(register.database.shown))


def alter(register: Register, *statements: str) -> None:
    """Change a register past the program: the guards of the table are dropped and put back."""
    with connected(register) as connection:
        connection.execute("PRAGMA synchronous = OFF")
        query = "SELECT name, sql, tbl_name FROM sqlite_master WHERE type = 'trigger'"
        guards = [each for each in connection.execute(query) if any(each[2] in words for words in statements)]
        for name, _, _ in guards:
            connection.execute(f"DROP TRIGGER {name}")
        for each in statements:
            connection.execute(each)
        for _, made, _ in guards:
            connection.execute(made)
        connection.commit()


def amiss(register: Register) -> list[Misfit]:
    """What is said of signatures."""
    with register.database.reading() as session:
        return list(signature_misfits(session))


def state(register: Register, row_id: int = VISIT, noun: SignedNoun = SignedNoun.VISIT) -> SigningState:
    return signing_of(register, noun, [row_id])[row_id].state


def test_that_what_nobody_altered_fits(copy: Register) -> None:
    assert amiss(copy) == []
    assert verify(copy).fits
    assert state(copy) is SigningState.COUNTERSIGNED
    assert state(copy, BATCH, SignedNoun.BATCH) is SigningState.SIGNED


def test_that_verifying_tells_of_the_signature_too(copy: Register) -> None:
    alter(copy, "UPDATE visit SET found_c = 38.5 WHERE id = 1")
    assert [(each.noun, each.row_id) for each in verify(copy).misfits] == [
        ("visit", 1),
        ("signature", FIRST),
        ("signature", OF_BATCH),
    ]


def _columns(register: Register, table: str, row_id: int) -> dict[str, Any]:
    with connected(register) as connection:
        connection.row_factory = sqlite3.Row
        return dict(connection.execute(f"SELECT * FROM {table} WHERE id = {row_id}").fetchone())


def _other(value: object) -> str:
    if value is None:
        return "1"
    if isinstance(value, bytes):
        return "x'00'"
    return f"{value + 1}" if isinstance(value, int | float) else f"'{value}x'"


def _literal(value: object) -> str:
    if value is None:
        return "NULL"
    return f"x'{value.hex()}'" if isinstance(value, bytes) else repr(value)


@pytest.mark.parametrize(
    ("table", "row_id", "named"),
    [("visit", VISIT, {FIRST, OF_BATCH}), ("batch", BATCH, {OF_BATCH})],
)
def test_that_each_column_of_what_is_signed_is_covered(
    copy: Register, table: str, row_id: int, named: set[int]
) -> None:
    columns = _columns(copy, table, row_id)
    for column, value in columns.items():
        if column == "id":
            continue
        alter(copy, f"UPDATE {table} SET {column} = {_other(value)} WHERE id = {row_id}")
        assert (column, {each.row_id for each in amiss(copy)}) == (column, named)
        assert state(copy, row_id, SignedNoun(table)) is SigningState.MISFIT
        alter(copy, f"UPDATE {table} SET {column} = {_literal(value)} WHERE id = {row_id}")
    assert amiss(copy) == []


@pytest.mark.parametrize(
    "column", ["at", "digest", "noun", "person_key_id", "role", "row_id", "signature", "who"]
)
def test_that_each_column_of_a_signature_is_covered(copy: Register, column: str) -> None:
    others = {"role": "'countersigned'", "person_key_id": "2", "noun": "'batch'", "row_id": "2"}
    other = others.get(column) or _other(_columns(copy, "signature", FIRST)[column])
    alter(copy, f"UPDATE signature SET {column} = {other} WHERE id = {FIRST}")
    named = {each.row_id for each in amiss(copy)}
    # Who sat at the program is told by the ledger, and covered by the countersignature.
    assert named == ({SECOND} if column == "who" else {FIRST, SECOND})


@pytest.mark.parametrize("column", ["person", "key", "fingerprint"])
def test_that_each_column_of_a_key_that_says_whose_it_is_is_covered(copy: Register, column: str) -> None:
    other = _other(_columns(copy, "person_key", 1)[column])
    alter(copy, f"UPDATE person_key SET {column} = {other} WHERE id = 1")
    assert {FIRST, OF_BATCH} <= {each.row_id for each in amiss(copy)}
    assert state(copy) is SigningState.MISFIT


CHANGES: Sequence[tuple[str, str, str]] = [
    ("UPDATE visit SET found_c = 38.5 WHERE id = 1", "what it covers is not what was signed", "changed past"),
    ("DELETE FROM visit WHERE id = 1", "what it covers is not there", "take the entry as unsigned"),
    ("DELETE FROM person_key WHERE id = 1", "its key is not in the register", "take the entry as unsigned"),
    ("UPDATE person_key SET key = 'x' WHERE id = 1", "not the one of its fingerprint", "Ask the signer"),
    ("UPDATE signature SET signature = 'x' WHERE id = 1", "not made with the key", "another key"),
    ("UPDATE signature SET noun = 'outlet' WHERE id = 1", "nothing that can be signed", "Ask the signer"),
    ("UPDATE signature SET row_id = 'x' WHERE id = 1", "what it covers is not there", "Ask the signer"),
    ("UPDATE signature SET at = 'then' WHERE id = 1", "not what was signed", "changed past"),
    ("UPDATE register SET identifier = 'mx-2'", "not what was signed", "changed past"),
    ("DELETE FROM register", "not what was signed", "changed past"),
]


@pytest.mark.parametrize(("statement", "what", "means"), CHANGES, ids=[each[0] for each in CHANGES])
def test_that_the_first_signature_that_does_not_fit_is_named_with_what_it_means(
    copy: Register, statement: str, what: str, means: str
) -> None:
    alter(copy, statement)
    first = amiss(copy)[0]
    assert first.row_id == FIRST
    assert first.place.startswith("signature 1 (")
    assert what in first.what
    assert means in first.means


def test_that_the_place_of_a_misfit_names_outlet_and_day(copy: Register) -> None:
    alter(copy, "UPDATE visit SET found_c = 38.5 WHERE id = 1")
    first, of_batch = amiss(copy)
    assert first.place == "signature 1 (visit 1, outlet MM/G/G01/WHB1, 2026-01-05)"
    assert first.what.endswith("(said to be by A. Thorne)")
    assert of_batch.place == "signature 3 (batch 2)"


@pytest.mark.parametrize("statement", ["UPDATE attempt SET why = 'x'", "DELETE FROM visit WHERE id = 4"])
def test_that_every_row_of_a_signed_batch_is_covered(copy: Register, statement: str) -> None:
    alter(copy, statement)
    assert [each.row_id for each in amiss(copy)] == [OF_BATCH]
    assert state(copy, 2) is SigningState.MISFIT


def test_that_nothing_is_signed_on_what_does_not_fit(copy: Register, tmp_path: Path) -> None:
    alter(copy, "UPDATE visit SET found_c = 38.5 WHERE id = 1")
    other = signer(copy, tmp_path, "B. Other")
    for doing in (other.signs, other.countersigns):
        with pytest.raises(EntryFault, match="A signature of it does not fit: visit 1"):
            doing(copy, VISIT)


def forged(register: Register, by: Signer, key_id: int, covered: int) -> None:
    """A countersignature made with the person's own key, past what the operation would refuse."""
    private = open_key(by.own, PASSPHRASE)
    with writing(register.database, WHO, "forged", NOW) as tx:
        own = by.own
        signer = Signing("mx-1", own.person, own.fingerprint, "countersigned", NOW.isoformat())
        told = told_rows(tx.session, SIGNATURE, [covered])[covered]
        said = statement(signer, SIGNATURE, covered, told)
        made = {"digest": digest_of(said), "signature": crypto.sign(private, said.encode()).hex()}
        of = {"noun": SIGNATURE, "row_id": covered, "person_key_id": key_id, "role": "countersigned"}
        add_signatures(tx, [{**of, **made}])


def test_that_a_countersignature_of_oneself_or_of_a_countersignature_does_not_fit(
    copy: Register, subject: Subject
) -> None:
    forged(copy, subject.thorne, 1, FIRST)
    forged(copy, subject.thorne, 1, SECOND)
    told = [(each.row_id, each.what) for each in amiss(copy)]
    assert told == [
        (4, "it is by the signer of what it covers (said to be by A. Thorne)"),
        (5, "what it covers is not signed in that role (said to be by A. Thorne)"),
    ]
    assert "shows nothing more" in amiss(copy)[0].means
    assert state(copy) is SigningState.MISFIT


def test_that_a_signature_after_the_withdrawal_of_its_key_is_named(copy: Register) -> None:
    moment = "'2026-11-24 10:30:00.000000'"
    alter(
        copy,
        "INSERT INTO person_key (person, key, fingerprint, made_at, added_by, at, withdraws, withdrawn_at, "
        f"why) SELECT person, key, fingerprint, made_at, 'A', {moment}, 1, {moment}, 'lost' "
        "FROM person_key WHERE id = 1",
    )
    found = amiss(copy)
    assert [each.row_id for each in found] == [FIRST, OF_BATCH]
    assert found[0].what.startswith("it was made after its key had been withdrawn")
    assert state(copy) is SigningState.WITHDRAWN


# The second way: by the words of docs/trust.md, with nothing of the program.


def _told(value: Any, kind: str) -> Any:
    if isinstance(value, bytes):
        return f"sha256:{sha256(value).hexdigest()}"
    if kind == "DATETIME":
        return datetime.fromisoformat(value).replace(tzinfo=UTC).isoformat()
    if kind == "BOOLEAN":
        return bool(value)
    return float(value) if kind in ("DOUBLE", "FLOAT") else value


def _rows(register: Register, query: str, table: str) -> list[dict[str, Any]]:
    with connected(register) as connection:
        kinds = {row[1]: row[2] for row in connection.execute(f"PRAGMA table_info({table})")}
        found = connection.execute(query)
        names = [each[0] for each in found.description]
        return [
            {
                name: None if value is None else _told(value, kinds[name])
                for name, value in zip(names, row, strict=True)
            }
            for row in found.fetchall()
        ]


def _compact(value: Any) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def second_way(register: Register, number: int) -> str:
    """A statement by the words of the page alone."""
    (made,) = _rows(register, f"SELECT * FROM signature WHERE id = {number}", "signature")
    (key,) = _rows(register, f"SELECT * FROM person_key WHERE id = {made['person_key_id']}", "person_key")
    noun, row_id = made["noun"], made["row_id"]
    (row,) = _rows(register, f"SELECT * FROM {noun} WHERE id = {row_id}", noun)
    said = {
        **{"at": made["at"], "fingerprint": key["fingerprint"], "noun": noun, "person": key["person"]},
        **{"register": "mx-1", "role": made["role"], "row_id": row_id},
        "row": {name: value for name, value in row.items() if value is not None and name != "id"},
    }
    if noun == "batch":
        said["rows"] = {}
        for table in ("attempt", "batch_question", "batch_row", "visit"):
            rows = _rows(register, f"SELECT * FROM {table} WHERE batch_id = {row_id} ORDER BY id", table)
            whole = "".join(_compact([row[name] for name in sorted(row)]) + "\n" for row in rows)
            said["rows"][table] = {"count": len(rows), "sha256": sha256(whole.encode()).hexdigest()}
    return _compact(said)


@pytest.mark.parametrize("number", [FIRST, SECOND, OF_BATCH])
def test_that_anyone_can_check_a_signature_by_the_page_alone(
    copy: Register, number: int, tmp_path: Path
) -> None:
    said, signature, pem = write_proof(copy, number, tmp_path / "proof")
    text = second_way(copy, number)
    assert said.read_text("utf-8") == text
    row = _columns(copy, "signature", number)
    key = _columns(copy, "person_key", row["person_key_id"])
    assert row["digest"] == sha256(text.encode()).hexdigest()
    assert key["fingerprint"] == sha256(bytes.fromhex(key["key"])).hexdigest()
    assert b64decode("".join(pem.read_text().splitlines()[1:-1]))[-32:].hex() == key["key"]
    public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(key["key"]))
    public.verify(signature.read_bytes(), text.encode())
    with pytest.raises(InvalidSignature):
        public.verify(signature.read_bytes(), text.replace("A. Thorne", "A. Other").encode() + b" ")


def test_that_a_proof_that_cannot_be_written_is_told(copy: Register, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(ReportFault, match="The files can't be written"):
        write_proof(copy, FIRST, tmp_path / "file")
    with pytest.raises(NotFoundFault, match="No such signature: Number 99"):
        write_proof(copy, 99, tmp_path)
    alter(copy, "DELETE FROM visit WHERE id = 1")
    with pytest.raises(NotFoundFault, match="or what it covers"):
        write_proof(copy, FIRST, tmp_path)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE visit_check SET said = 1 WHERE \"key\" = 'support'",
        "DELETE FROM visit_check",
        "UPDATE visit_part SET quantity = 3",
        "INSERT INTO visit_part (id, visit_id, part, remark) SELECT 99, max(id), 'spring', '' FROM visit",
    ],
)
def test_that_what_was_seen_at_a_signed_visit_is_covered(
    copy: Register, subject: Subject, statement: str
) -> None:
    typed = TypedVisit(
        *("MM/G/G01/WHB1", VisitKind.COMMISSIONING, TODAY),
        readings=("left_c=41",),
        seen=("washers=yes", "support=no"),
        parts=("strainer=2",),
    )
    visit = record_visit(copy, draft_of(copy, typed), who=WHO, at=NOW, today=TODAY).visit.id
    subject.thorne.signs(copy, visit)
    assert state(copy, visit) is SigningState.SIGNED
    alter(copy, statement)
    assert state(copy, visit) is SigningState.MISFIT
