"""A person's key in a file of their profile: for their eyes alone, locked, whole or not there."""

import json
import stat
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from estate.domain.signatures import OwnKey
from estate.errors import KeyFault
from estate.store import key_files, keys
from estate.store.key_files import open_key, read_keys, write_key
from tests.store.builders import NOW

PASSPHRASE = "séven grey herons"
LIGHT = 2**10


def made(folder: Path, person: str = "A. Thorne", at: datetime = NOW) -> OwnKey:
    return write_key(folder, person, at, PASSPHRASE, LIGHT)


def changed(own: OwnKey, **fields: Any) -> None:
    kept = json.loads(own.file.read_text("utf-8"))
    own.file.write_text(json.dumps(kept | fields), "utf-8")


def test_that_a_key_is_kept_locked_and_for_its_owner_alone(tmp_path: Path) -> None:
    folder = tmp_path / "profile" / "keys"
    own = made(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert [each.name for each in folder.iterdir()] == [own.file.name]
    assert stat.S_IMODE(own.file.stat().st_mode) == 0o600
    private = open_key(own, PASSPHRASE)
    assert keys.public_of(private).hex() == own.public
    assert private.hex() not in own.file.read_text("utf-8")
    assert read_keys(folder) == ((own,), ())


def test_that_a_passphrase_is_the_same_however_its_letters_are_composed(tmp_path: Path) -> None:
    own = made(tmp_path)
    assert open_key(own, "se\N{COMBINING ACUTE ACCENT}ven grey herons") == open_key(own, PASSPHRASE)
    with pytest.raises(KeyFault, match="The passphrase is wrong"):
        open_key(own, "seven grey herons")


def test_that_the_usual_cost_of_a_guess_is_high(tmp_path: Path) -> None:
    own = write_key(tmp_path, "A. Thorne", NOW, PASSPHRASE, keys.WORK)
    assert json.loads(own.file.read_text("utf-8"))["scrypt_n"] == 131072
    assert keys.public_of(open_key(own, PASSPHRASE)).hex() == own.public


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o660, 0o644])
def test_that_a_key_that_others_can_read_is_refused_with_the_remedy(tmp_path: Path, mode: int) -> None:
    own = made(tmp_path)
    own.file.chmod(mode)
    with pytest.raises(KeyFault, match="The key can be read by others") as caught:
        open_key(own, PASSPHRASE)
    assert f'chmod 600 "{own.file}"' in caught.value.remedy
    assert [each.title for each in read_keys(tmp_path)[1]] == ["The key can be read by others"]
    own.file.chmod(0o600)
    assert open_key(own, PASSPHRASE)


def test_that_the_profile_decides_where_files_have_no_modes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = made(tmp_path)
    own.file.chmod(0o644)
    monkeypatch.setattr(key_files, "_POSIX", False)
    assert open_key(own, PASSPHRASE)


def test_that_keys_are_listed_by_person_and_moment(tmp_path: Path) -> None:
    later = made(tmp_path, at=datetime(2026, 11, 26, tzinfo=UTC))
    made(tmp_path, "Z. Zeller")
    made(tmp_path)
    found, _ = read_keys(tmp_path)
    assert [each.person for each in found] == ["A. Thorne", "A. Thorne", "Z. Zeller"]
    assert found[1] == later
    assert read_keys(tmp_path / "nowhere") == ((), ())


CHANGES: dict[str, Callable[[OwnKey], object]] = {
    "person": lambda own: changed(own, person="A. Other"),
    "moment": lambda own: changed(own, made_at="2026-11-24T09:30:00+00:00"),
    "no moment": lambda own: changed(own, made_at="then"),
    "key": lambda own: changed(own, key="00" * 32),
    "no key": lambda own: changed(own, key=None),
    "proof": lambda own: changed(own, proof="00" * 64),
    "kind": lambda own: changed(own, kind="estate key 2"),
    "no object": lambda own: own.file.write_text("[]", "utf-8"),
    "no JSON": lambda own: own.file.write_text("{", "utf-8"),
    "no text": lambda own: own.file.write_bytes(b"\xff"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_that_a_key_that_was_changed_is_told_and_the_others_are_listed(
    tmp_path: Path, change: Callable[[OwnKey], object]
) -> None:
    own, other = made(tmp_path), made(tmp_path, "B. Other")
    change(own)
    found, faults = read_keys(tmp_path)
    assert found == (other,)
    assert [each.title for each in faults] == ["The key is damaged"]
    assert str(own.file) in faults[0].detail


@pytest.mark.parametrize(
    "fields",
    [
        {"scrypt_n": 2**30},
        {"scrypt_n": 3000},
        {"scrypt_n": 0},
        {"scrypt_n": "many"},
        {"nonce": "00"},
        {"sealed": "00"},
        {"salt": 1},
    ],
    ids=str,
)
def test_that_what_can_be_no_locked_key_is_not_worked_on(tmp_path: Path, fields: dict[str, Any]) -> None:
    own = made(tmp_path)
    changed(own, **fields)
    with pytest.raises(KeyFault, match="The key is damaged"):
        open_key(own, PASSPHRASE)


def test_that_a_sealed_key_that_was_changed_does_not_open(tmp_path: Path) -> None:
    own = made(tmp_path)
    changed(own, sealed="00" * 48)
    with pytest.raises(KeyFault, match="The passphrase is wrong"):
        open_key(own, PASSPHRASE)


def test_that_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "keys").write_text("a file")
    with pytest.raises(KeyFault, match="The key can't be kept"):
        made(tmp_path / "keys")


def test_that_a_write_that_fails_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(KeyFault, match="No space left on device"):
        made(tmp_path / "keys")
    assert list((tmp_path / "keys").iterdir()) == []


def test_that_a_key_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    own = made(tmp_path)
    own.file.unlink()
    own.file.mkdir(mode=0o700)
    with pytest.raises(KeyFault, match="The key can't be read"):
        open_key(own, PASSPHRASE)


def test_that_another_kind_of_public_key_is_none() -> None:
    x25519 = (
        "-----BEGIN PUBLIC KEY-----\nMCowBQYDK2VuAyEAGb9ECWmEzf6FQbrBZ9w7lshQhqowtrbLDFw4rXAxZuE=\n"
        "-----END PUBLIC KEY-----\n"
    )
    with pytest.raises(ValueError, match="another kind of key"):
        keys.public_of_pem(x25519)
