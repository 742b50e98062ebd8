"""Documents are kept once, byte for byte, voided and never removed, and given out only as they came in."""

import sqlite3
import stat
from collections.abc import Callable
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from sqlalchemy import func, select

from estate.domain.documents import Document, MediaType, Owner
from estate.domain.instruments import Calibration
from estate.errors import EntryFault, NotFoundFault, RegisterFault, ReportFault
from estate.operations.as_known_at import as_known_at
from estate.operations.keep_documents import (
    add_document,
    clear_away,
    content,
    copy_to_open,
    documents,
    owner_named,
    take_out,
    usual_name,
    void_document,
)
from estate.operations.keep_instruments import add_instrument
from estate.operations.register import Register
from estate.operations.undo_batch import undo_batch, what_rests_on
from estate.operations.verify_register import verify
from estate.store import places
from estate.store.document_schema import DocumentContentRow
from tests.builders import TODAY
from tests.files import JPEG, PDF, TEXT
from tests.operations.conftest import NOW, WHO, bring
from tests.operations.test_undo_batch import FURTHER

OUTLET = "outlet:MM/G/G01/WHB1"


@pytest.fixture
def add(register: Register, tmp_path: Path) -> Callable[..., Document]:
    def made(kept: bytes = PDF, name: str = "certificate.pdf", owner: str = OUTLET, **said: str) -> Document:
        path = tmp_path / name
        path.write_bytes(kept)
        to = owner_named(register, owner)
        return add_document(register, to, path, who=WHO, at=NOW, **said).document  # type: ignore[arg-type] # words only

    return made


def _contents(register: Register) -> int:
    with register.database.reading() as session:
        return session.execute(select(func.count(DocumentContentRow.id))).scalar_one()


def test_that_a_document_is_kept_with_what_it_is_and_whose(
    register: Register, add: Callable[..., Document]
) -> None:
    made = add(remark="  Commissioning ")
    assert documents(register) == (made,)
    assert documents(register, [made.owner]) == (made,)
    assert documents(register, [owner_named(register, "register")]) == ()
    assert (made.name, made.media_type, made.remark) == ("certificate.pdf", MediaType.PDF, "Commissioning")
    assert (made.size_bytes, made.sha256) == (len(PDF), sha256(PDF).hexdigest())
    assert (made.owner.words, made.who, made.at, made.void) == ("outlet MM/G/G01/WHB1", WHO, NOW, None)
    assert content(register, made.id) == PDF
    assert verify(register).fits


def test_that_the_same_bytes_are_kept_once(register: Register, add: Callable[..., Document]) -> None:
    first, second = add(), add(name="copy.pdf", owner="visit:1")
    assert (first.sha256, _contents(register)) == (second.sha256, 1)
    with pytest.raises(EntryFault, match="kept there already"):
        add(name="again.pdf")
    void_document(register, first.id, why="of another outlet", who=WHO, at=NOW)
    assert add(name="again.pdf").id == 3
    assert _contents(register) == 1
    assert verify(register).fits


OWNERS = {
    "register": "the whole register",
    "site:1": "site Marlpit Cross",
    "building:1": "building Main Block",
    "level:1": "level G",
    "room:1": "room G01 ",
    "outlet:mm-g g01 whb1": "outlet MM/G/G01/WHB1",
    "outlet:2": "outlet ",
    "valve:1": "valve Make A",
    "visit:1": "visit of ",
    "batch:1": "batch 1, assets.csv",
    "instrument:t-9": "instrument T-9",
}


def test_that_documents_belong_to_anything_of_the_register(
    register: Register, add: Callable[..., Document]
) -> None:
    calibrated = Calibration(TODAY, TODAY, "c")
    add_instrument(register, "T-9", calibration=calibrated, who=WHO, at=NOW)
    for words, shown in OWNERS.items():
        assert add(owner=words).owner.words.startswith(shown)
    assert owner_named(register, "instrument:1") == owner_named(register, "instrument:T-9")
    assert len(documents(register)) == len(OWNERS)


def test_that_an_owner_that_is_not_there_or_written_otherwise_is_told(register: Register) -> None:
    for words in ("", "finding:1", "outlet", "outlet:", "everything"):
        with pytest.raises(EntryFault, match="not clear what the document belongs to"):
            owner_named(register, words)
    for words in ("outlet:nowhere", "visit:99", "instrument:T-1", "building:x"):
        with pytest.raises(NotFoundFault):
            owner_named(register, words)


def test_that_a_document_of_nothing_is_not_kept(register: Register, tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(PDF)
    for owner in (Owner("finding", 1), Owner("outlet", 999)):
        with pytest.raises(NotFoundFault, match="nothing to keep the document for"):
            add_document(register, owner, tmp_path / "a.pdf", who=WHO, at=NOW)
    assert documents(register) == ()


def test_that_a_file_over_the_bound_is_not_kept(register: Register, tmp_path: Path) -> None:
    path, owner = tmp_path / "a.txt", owner_named(register, OUTLET)
    path.write_bytes(b"x" * 1_000_001)
    with pytest.raises(EntryFault, match="The file is too big") as caught:
        add_document(register, owner, path, who=WHO, at=NOW, bound_mb=1)
    assert "more than 1 MB" in caught.value.detail
    path.write_bytes(b"x" * 1_000_000)
    assert add_document(register, owner, path, who=WHO, at=NOW, bound_mb=1).document.size_words == "1.0 MB"


def test_that_a_file_that_can_not_be_read_is_told(register: Register, tmp_path: Path) -> None:
    with pytest.raises(EntryFault, match="The file can't be read"):
        add_document(register, owner_named(register, OUTLET), tmp_path / "none.pdf", who=WHO, at=NOW)


def test_that_a_name_that_hides_what_it_says_is_not_kept(add: Callable[..., Document]) -> None:
    for name in ("plate\u202efdp.pdf", "a\nb.pdf", "a" * 200 + ".pdf"):
        with pytest.raises(EntryFault, match="The file's name is not kept"):
            add(name=name)


def test_that_a_void_document_stays_with_its_reason(register: Register, add: Callable[..., Document]) -> None:
    made = add(JPEG, "plate.jpg", owner="building:1")
    with pytest.raises(EntryFault, match="No reason is given"):
        void_document(register, made.id, why=" ", who=WHO, at=NOW)
    changes = void_document(register, made.id, why=" another building ", who="B. Officer", at=NOW)
    assert changes.everything
    (there,) = documents(register)
    assert there.void is not None
    assert (there.void.who, there.void.at, there.void.why) == ("B. Officer", NOW, "another building")
    assert content(register, made.id) == JPEG
    with pytest.raises(EntryFault, match="void already"):
        void_document(register, made.id, why="again", who=WHO, at=NOW)
    with pytest.raises(NotFoundFault, match="No such document"):
        void_document(register, 9, why="x", who=WHO, at=NOW)


def test_that_a_document_is_taken_out_as_it_came_in_and_over_no_other(
    register: Register, add: Callable[..., Document], tmp_path: Path
) -> None:
    made, to = add(), tmp_path / "out" / "c.pdf"
    with pytest.raises(ReportFault, match="can't be written"):
        take_out(register, made.id, to)
    to.parent.mkdir()
    assert take_out(register, made.id, to).read_bytes() == PDF
    with pytest.raises(ReportFault, match="There is a file of that name"):
        take_out(register, made.id, to)


def test_that_a_copy_to_open_is_read_only_private_and_of_its_kind(
    register: Register, add: Callable[..., Document], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    made = add(TEXT, "notes.csv")
    copy = copy_to_open(register, made.id)
    assert copy.read_bytes() == TEXT
    assert copy.name == "document 1.txt"
    assert stat.S_IMODE(copy.stat().st_mode) == stat.S_IRUSR
    assert stat.S_IMODE(copy.parent.stat().st_mode) == stat.S_IRWXU
    assert clear_away(copy)
    assert clear_away(copy)
    held = copy_to_open(register, made.id)
    (held.parent / "still open").touch()
    assert not clear_away(held)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "nowhere"))
    with pytest.raises(ReportFault, match="The copy can't be written"):
        copy_to_open(register, made.id)


def test_that_a_name_from_another_system_leads_nowhere_else(add: Callable[..., Document]) -> None:
    assert usual_name(add(name="C:\\temp\\plate.pdf")) == "plate.pdf"
    assert usual_name(add(PDF + b" ", "c.pdf")) == "c.pdf"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("UPDATE document_content SET content = X'255044462d'", "others than were added"),
        ("DELETE FROM document_content", "its bytes are not there"),
    ],
)
def test_that_bytes_changed_past_the_program_are_not_given_out(
    register: Register, add: Callable[..., Document], change: str, said: str, tmp_path: Path
) -> None:
    made = add()
    if not register.database.url.startswith("sqlite"):
        return  # the triggers are altered in a file only
    with closing(sqlite3.connect(register.database.url.removeprefix("sqlite:///"))) as connection:
        for event in ("update", "delete"):
            connection.execute(f"DROP TRIGGER document_content_no_{event}")
        connection.execute(change)
        connection.commit()
    for give_out in (content, copy_to_open):
        with pytest.raises(RegisterFault, match=said):
            give_out(register, made.id)
    found = verify(register)
    assert any(each.noun == "document_content" for each in found.misfits)


def test_that_the_ledger_tells_the_digest_and_not_the_bytes(
    register: Register, add: Callable[..., Document]
) -> None:
    add()
    with register.database.reading() as session:
        told = session.connection().exec_driver_sql(
            "SELECT after FROM ledger_entry WHERE noun = 'document_content'"
        )
        (after,) = told.scalars().all()
    digest = sha256(PDF).hexdigest()
    assert after == f'{{"content":"sha256:{digest}","sha256":"{digest}"}}'


def test_that_documents_are_known_as_they_were_at_a_past_moment(
    register: Register, add: Callable[..., Document]
) -> None:
    made = add()
    later = NOW.replace(hour=NOW.hour + 1)
    void_document(register, made.id, why="another outlet", who=WHO, at=later)
    past = as_known_at(register, NOW)
    assert documents(past) == (made,)
    assert content(past, made.id) == PDF
    past.close()


@pytest.fixture
def further(register: Register, tmp_path: Path) -> int:
    """A batch that adds a shower room's basin, and a ward on a storey of its own."""
    batch_id = bring(register, tmp_path, FURTHER, "further.csv").batch_id
    assert batch_id is not None
    return batch_id


def test_that_a_batch_whose_outlet_has_a_document_is_not_undone(
    register: Register, add: Callable[..., Document], further: int
) -> None:
    made = add(owner="outlet:MM/G/G02/WHB9")
    void_document(register, made.id, why="another outlet", who=WHO, at=NOW)
    assert what_rests_on(register, further) == ("MM/G/G02/WHB9 has 1 document on record",)


def test_that_a_room_with_a_document_stays_when_its_batch_is_undone(
    register: Register, add: Callable[..., Document], further: int
) -> None:
    with register.database.reading() as session:
        ward = next(each for each in places.rooms(session) if each.room_number == "201")
    made = add(owner=f"room:{ward.room_id}")
    undo_batch(register, further, who=WHO, at=NOW, today=TODAY, why="the wrong file")
    assert owner_named(register, f"room:{ward.room_id}") == made.owner
    assert verify(register).fits
