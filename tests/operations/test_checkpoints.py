"""A checkpoint kept elsewhere shows a ledger that was written anew."""

from datetime import timedelta
from pathlib import Path

import pytest

from estate.errors import EntryFault
from estate.operations.checkpoints import (
    checkpoint_text,
    keep_seen,
    known_head_of,
    last_seen,
    make_checkpoint,
    read_checkpoint,
)
from estate.operations.open_register import new_register
from estate.operations.register import Register
from estate.operations.verify_register import verify, verify_quick
from estate.store.transaction import writing
from tests.store.builders import NOW, add_basin


@pytest.fixture
def register(address: str) -> Register:
    made = new_register(address, "Marlpit  Cross", at=NOW, who="A. Officer", identifier="mx-1")
    with writing(made.database, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    return made


def test_that_a_printed_checkpoint_is_read_again_and_fits(register: Register) -> None:
    made = make_checkpoint(register, who="A. Officer", at=NOW)
    printed = checkpoint_text(made)
    assert printed.splitlines()[0] == "Checkpoint of a register's ledger"
    assert f"Entries: {made.entries}" in printed
    groups = printed.splitlines()[-1].partition(": ")[2].split()
    assert [len(each) for each in groups] == [8] * 8
    quoted = "\r\n".join(f"> {line}" for line in printed.splitlines())
    read = read_checkpoint(quoted)
    assert (read.entry_id, read.digest, read.identifier) == (made.entry_id, made.digest, "mx-1")
    assert read.name == "Marlpit Cross"
    said = verify(register, known_heads=[known_head_of(register, read)])
    assert said.fits
    assert said.entries == made.entries + 1
    register.close()


def test_that_a_checkpoint_of_another_digest_is_told(register: Register) -> None:
    made = make_checkpoint(register, who="A. Officer", at=NOW)
    printed = checkpoint_text(made).replace(made.digest[:8], "0" * 8)
    said = verify(register, known_heads=[known_head_of(register, read_checkpoint(printed))])
    assert [each.entry_id for each in said.misfits] == [made.entry_id]
    assert "the checkpoint of 2026-11-25" in said.words
    register.close()


@pytest.mark.parametrize("cut", ["Digest", "Entries", "Taken at", "Register", "Identifier"])
def test_that_text_that_is_no_checkpoint_is_refused(register: Register, cut: str) -> None:
    printed = checkpoint_text(make_checkpoint(register, who="A. Officer", at=NOW))
    lines = [line for line in printed.splitlines() if not line.startswith(f"{cut}:")]
    with pytest.raises(EntryFault, match="That is not a checkpoint"):
        read_checkpoint("\n".join(lines))
    register.close()


def test_that_a_checkpoint_of_another_register_is_refused(register: Register) -> None:
    printed = checkpoint_text(make_checkpoint(register, who="A. Officer", at=NOW))
    other = read_checkpoint(printed.replace("mx-1", "we-1"))
    with pytest.raises(EntryFault, match="The checkpoint is of another register"):
        known_head_of(register, other)
    register.close()


def test_that_what_this_machine_saw_is_kept_by_register(register: Register, tmp_path: Path) -> None:
    kept = tmp_path / "profile" / "seen.json"
    assert last_seen(register, kept) is None
    keep_seen(register, kept, verify_quick(register))
    seen = last_seen(register, kept)
    assert seen is not None
    with writing(register.database, "A. Officer", "added", NOW + timedelta(days=1)) as tx:
        add_basin(tx, "MX-2")
    newer = verify_quick(register, seen)
    assert newer.fits
    keep_seen(register, kept, newer)
    last = last_seen(register, kept)
    assert last is not None
    assert last.entry_id == newer.head.entry_id > seen.entry_id
    register.close()


def test_that_a_register_that_does_not_fit_is_not_kept_as_seen(register: Register, tmp_path: Path) -> None:
    kept = tmp_path / "seen.json"
    good = verify_quick(register)
    keep_seen(register, kept, good)
    seen = last_seen(register, kept)
    assert seen is not None
    wrong = verify_quick(register, type(seen)(seen.entry_id + 5, seen.digest, seen.where))
    assert not wrong.fits
    keep_seen(register, kept, wrong)
    assert last_seen(register, kept) == seen
    register.close()


@pytest.mark.parametrize("written", ["", "[]", '{"mx-1": 3}', '{"mx-1": ["x", 1]}', '{"mx-1": []}'])
def test_that_a_file_of_what_was_seen_that_makes_no_sense_counts_as_nothing_seen(
    register: Register, tmp_path: Path, written: str
) -> None:
    kept = tmp_path / "seen.json"
    kept.write_text(written)
    assert last_seen(register, kept) is None
    register.close()


def test_that_a_profile_that_can_not_be_written_is_no_fault(register: Register, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    kept = tmp_path / "file" / "seen.json"
    keep_seen(register, kept, verify_quick(register))
    assert last_seen(register, kept) is None
    register.close()
