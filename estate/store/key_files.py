"""A person's own keys as files of their profile: one a key, locked, for the person's eyes alone."""

import json
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from estate.domain.phrases import phrase
from estate.domain.signatures import OwnKey
from estate.errors import KeyFault
from estate.store import keys
from estate.store.canonical import text_of, utc
from estate.store.keys import Locked

_KIND: Final = "estate key 1"
_ENDING: Final = ".key"
_OTHERS: Final = 0o077
_POSIX: Final = os.name == "posix"  # elsewhere the profile's own rights decide


def claim(person: str, made_at: datetime, public: str) -> str:
    """Whose key it is: the key signs this text itself, so that nobody adds the key of another as theirs."""
    return text_of({"key": public, "made_at": utc(made_at).isoformat(), "person": person})


def write_key(folder: Path, person: str, made_at: datetime, passphrase: str, work: int) -> OwnKey:
    """Make a key and keep it, locked, in a file that only its owner can read.

    Raises:
        KeyFault: the folder can't be written; nothing is kept then.
    """
    private = keys.new_private()
    raw = keys.public_of(private)
    claimed = claim(person, made_at, raw.hex()).encode()
    locked = keys.lock(private, passphrase, claimed, work)
    fingerprint = keys.fingerprint_of(raw)
    proof = keys.sign(private, claimed).hex()
    path = folder / f"{fingerprint[:16]}{_ENDING}"
    own = OwnKey(person, raw.hex(), fingerprint, made_at, proof, path)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _write_whole(path, json.dumps(_kept(own, locked), ensure_ascii=False, indent=1).encode())
    except OSError as error:
        remedy = phrase("Make room, or ask for the right to write there; no key was made.")
        raise KeyFault("The key can't be kept", f"{path}: {error.strerror}.", remedy) from error
    return own


def _kept(own: OwnKey, locked: Locked) -> dict[str, Any]:
    return {
        "kind": _KIND,
        "person": own.person,
        "made_at": utc(own.made_at).isoformat(),
        "key": own.public,
        "proof": own.proof,
        "scrypt_n": locked.work,
        "salt": locked.salt.hex(),
        "nonce": locked.nonce.hex(),
        "sealed": locked.sealed.hex(),
    }


def _write_whole(path: Path, content: bytes) -> None:
    part = path.with_name(f"{path.name}.part")
    try:
        part.unlink(missing_ok=True)  # left by a crash; what is there would keep its rights
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except OSError:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def read_keys(folder: Path) -> tuple[tuple[OwnKey, ...], tuple[KeyFault, ...]]:
    """The keys kept in a folder by person and moment, and why others can't be used."""
    found: list[OwnKey] = []
    faults: list[KeyFault] = []
    for path in sorted(folder.glob(f"*{_ENDING}")):
        try:
            found.append(_own(path, _read(path)))
        except KeyFault as fault:
            faults.append(fault)
    found.sort(key=lambda own: (own.person, own.made_at))
    return tuple(found), tuple(faults)


def open_key(own: OwnKey, passphrase: str) -> bytes:
    """The raw private key.

    Raises:
        KeyFault: the file is gone, damaged or open to others, or the passphrase is wrong.
    """
    kept = _read(own.file)
    claimed = claim(own.person, own.made_at, own.public).encode()
    private = keys.unlock(_locked(own.file, kept), passphrase, claimed)
    if private is None:
        remedy = phrase(
            "Type it again, with an eye on capitals and the keyboard's language. A passphrase that is lost "
            "can't be found again: make a new key and let the officer withdraw this one."
        )
        raise KeyFault("The passphrase is wrong", f"{own.person}, {own.file}.", remedy)
    return private


def _read(path: Path) -> Mapping[str, Any]:
    try:
        mode = path.stat().st_mode
        if _POSIX and stat.S_IMODE(mode) & _OTHERS:
            remedy = phrase(
                'Close it to others (chmod 600 "{path}"). If others use this machine, make '
                "a new key and let the officer withdraw this one: it may have been copied.",
                path=path,
            )
            raise KeyFault("The key can be read by others", f"{path}.", remedy)
        kept = json.loads(path.read_text("utf-8"))
    except FileNotFoundError as error:
        remedy = phrase(
            "Put it back from a backup of your profile, or make a new key and let the officer withdraw it."
        )
        raise KeyFault("The key is not there", f"{path}.", remedy) from error
    except OSError as error:
        raise KeyFault("The key can't be read", f"{path}: {error.strerror}.", "Check its rights.") from error
    except ValueError as error:
        raise _damaged(path) from error
    if not isinstance(kept, dict) or kept.get("kind") != _KIND:
        raise _damaged(path)
    return kept


def _own(path: Path, kept: Mapping[str, Any]) -> OwnKey:
    try:
        raw, made_at = bytes.fromhex(kept["key"]), datetime.fromisoformat(kept["made_at"])
        person, proof = str(kept["person"]), bytes.fromhex(kept["proof"])
        if not keys.fits(raw, proof, claim(person, made_at, raw.hex()).encode()):
            raise ValueError("another claim")
    except (KeyError, TypeError, ValueError) as error:
        raise _damaged(path) from error
    return OwnKey(person, raw.hex(), keys.fingerprint_of(raw), made_at, proof.hex(), path)


def _locked(path: Path, kept: Mapping[str, Any]) -> Locked:
    try:
        salt, nonce, sealed = (bytes.fromhex(kept[name]) for name in ("salt", "nonce", "sealed"))
        locked = Locked(int(kept["scrypt_n"]), salt, nonce, sealed)
        keys.check(locked)
    except (KeyError, TypeError, ValueError) as error:
        raise _damaged(path) from error
    return locked


def _damaged(path: Path) -> KeyFault:
    remedy = phrase(
        "Put it back from a backup of your profile, or make a new key and let the officer withdraw it."
    )
    return KeyFault("The key is damaged", phrase("{path} is no key, or was changed.", path=path), remedy)
