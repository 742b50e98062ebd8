"""Keys: a person makes one in their own profile; the officer adds its public half to the register."""

import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.phrases import phrase
from estate.domain.roles import Deed
from estate.domain.signatures import Key, OwnKey, shown_fingerprint
from estate.errors import EntryFault, KeyFault, NotFoundFault, RegisterFault
from estate.operations.make_roles import may
from estate.operations.register import Register
from estate.store import key_files, signatures
from estate.store import keys as crypto
from estate.store.key_files import read_keys as own_keys
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

__all__ = ["add_key", "find_key", "key_text", "keys", "make_key", "own_keys", "read_key_text", "withdraw_key"]

SHORTEST: Final = 10
"""Characters of a passphrase, at the least."""

_PEM: Final = re.compile(r"-----BEGIN PUBLIC KEY-----[^-]+-----END PUBLIC KEY-----")


def make_key(person: str, passphrase: str, folder: Path, *, at: datetime, work: int | None = None) -> OwnKey:
    """Make a key of one's own.

    Args:
        person: the name as it stands beside signatures.
        passphrase: asked for at each signing; it can't be found again when it is lost.
        folder: of the person's profile.
        at: now, with its time zone.
        work: scrypt's cost; the usual one if not given.

    Returns:
        The key; `key_text` of it goes to the officer.

    Raises:
        EntryFault: no name is given, or the passphrase is too short.
        KeyFault: the folder can't be written.
    """
    name = " ".join(person.split())
    if not name:
        raise EntryFault("A name is needed", "The key has no person.", "Give the name of whoever will sign.")
    if len(passphrase) < SHORTEST:
        detail = phrase(
            "It has {count} characters; at least {shortest} are needed.",
            count=len(passphrase),
            shortest=SHORTEST,
        )
        raise EntryFault("The passphrase is too short", detail, "Take several words that nobody would guess.")
    return key_files.write_key(folder, name, at, passphrase, work or crypto.WORK)


def key_text(own: OwnKey) -> str:
    """What the officer gets: the public key and whose it is; `add_key` reads it, and so does openssl."""
    lines = (
        "Public key for signing",
        f"Person: {own.person}",
        f"Made at: {own.made_at.isoformat()}",
        f"Fingerprint: {shown_fingerprint(own.fingerprint)}",
        f"Proof: {own.proof}",
    )
    return "\n".join((*lines, crypto.public_pem(bytes.fromhex(own.public))))


def read_key_text(text: str) -> OwnKey:
    """A public key from its text, however a mail program quoted the lines.

    Raises:
        EntryFault: the text is no such key, or a part of it was changed.
    """
    plain = "\n".join(line.lstrip("> \t").rstrip() for line in text.splitlines())
    told = {
        label.strip(): value.strip()
        for label, _, value in (each.partition(":") for each in plain.splitlines())
    }
    try:
        return _proved(told, plain)
    except (KeyError, ValueError) as error:
        remedy = phrase("Give all of the text that `estate key new` wrote, unchanged.")
        raise EntryFault("That is not a public key", f"'{text[:60].strip()}'.", remedy) from error


def _proved(told: Mapping[str, str], plain: str) -> OwnKey:
    found = _PEM.search(plain)
    if found is None:
        raise ValueError("no key")
    raw = crypto.public_of_pem(found.group())
    person, made_at, proof = told["Person"], datetime.fromisoformat(told["Made at"]), told["Proof"]
    claimed = key_files.claim(person, made_at, raw.hex())
    if not crypto.fits(raw, bytes.fromhex(proof), claimed.encode()):
        raise ValueError("another claim")
    return OwnKey(person, raw.hex(), crypto.fingerprint_of(raw), made_at, proof, Path())


def keys(register: Register) -> tuple[Key, ...]:
    """The register's keys, withdrawn ones too, in the order in which they were added."""
    with register.database.reading() as session:
        return signatures.keys(session)


@retried
def add_key(register: Register, text: str, *, who: str, at: datetime) -> Key:
    """Add a person's public key; the fingerprint is to be compared with the person first, by voice.

    Args:
        register: the open register.
        text: as `key_text` wrote it.
        who: the officer.
        at: now, with its time zone.

    Raises:
        EntryFault: the text is no key, or the key is in the register already.
        RegisterFault: that is not the login's to do.
    """
    _must_be_allowed(register)
    own = read_key_text(text)
    with writing(register.database, who, f"added the key of {own.person}", at) as tx:
        there = _by_fingerprint(tx, own.fingerprint)
        if there is not None and there.withdrawal is not None:
            detail = f"{there.person}, {shown_fingerprint(there.fingerprint)}: {there.withdrawal.why}."
            raise EntryFault("That key was withdrawn", detail, "Let the person make a new one.")
        if there is not None:
            detail = f"{there.person}, {shown_fingerprint(there.fingerprint)}."
            raise EntryFault("That key is in the register already", detail, "Nothing is left to do.")
        signatures.add_key(tx, own)
        added = _by_fingerprint(tx, own.fingerprint)
    assert added is not None
    return added


def _by_fingerprint(tx: Transaction, fingerprint: str) -> Key | None:
    return next((each for each in signatures.keys(tx.session) if each.fingerprint == fingerprint), None)


def find_key(register: Register, fingerprint: str) -> Key:
    """A key of the register by the beginning of its fingerprint, with or without spaces.

    Raises:
        NotFoundFault: there is none.
        EntryFault: there are several.
    """
    start = "".join(fingerprint.split()).casefold()
    found = [each for each in keys(register) if start and each.fingerprint.startswith(start)]
    if not found:
        raise NotFoundFault("No such key", f'"{fingerprint}".', "Look it up in the list of keys.")
    if len(found) > 1:
        names = ", ".join(shown_fingerprint(each.fingerprint) for each in found)
        raise EntryFault("Several keys begin so", f"{names}.", "Give more of the fingerprint.")
    return found[0]


@retried
def withdraw_key(
    register: Register, key: Key, *, why: str, who: str, at: datetime, since: datetime | None = None
) -> ChangeSet:
    """Withdraw a key: it signs nothing more, and what it signed from `since` on does not count as signed.

    Args:
        register: the open register.
        key: of the register.
        why: kept for good.
        who: the officer.
        at: now, with its time zone.
        since: when it was lost or stolen; now if not given. Signatures before it stay good.

    Raises:
        EntryFault: no reason is given, it is withdrawn already, or `since` lies ahead.
        RegisterFault: that is not the login's to do.
    """
    _must_be_allowed(register)
    shown = f"{key.person}, {shown_fingerprint(key.fingerprint)}"
    if not why.strip():
        raise EntryFault("A reason is needed", f"{shown}.", "Say why the key is withdrawn.")
    if since is not None and since > at:
        raise EntryFault(
            "That moment lies ahead", f"{since.isoformat()}.", "Give now, or a moment that is past."
        )
    with writing(register.database, who, f"withdrew the key of {key.person}", at, why=why.strip()) as tx:
        there = _by_fingerprint(tx, key.fingerprint)
        if there is None or there.withdrawal is not None:
            raise EntryFault("That key is withdrawn already", f"{shown}.", "Nothing is left to do.")
        signatures.withdraw_key(tx, there, since or at, why.strip())
        tx.touch(everything=True)
    return tx.changes


def own_key(folder: Path, fingerprint: str = "") -> OwnKey:
    """The key to sign with: the only one in a profile, or the one whose fingerprint begins so.

    Raises:
        KeyFault: there is none, or several.
    """
    found, faults = own_keys(folder)
    start = "".join(fingerprint.split()).casefold()
    chosen = [each for each in found if each.fingerprint.startswith(start)]
    if len(chosen) == 1:
        return chosen[0]
    if chosen:
        names = "; ".join(f"{each.person}, {shown_fingerprint(each.fingerprint)}" for each in chosen)
        raise KeyFault(
            "There are several keys", f"{names}.", "Say which, by the beginning of its fingerprint."
        )
    if faults:
        raise faults[0]
    remedy = phrase(
        "Make one, and give its public half to the officer; if yours is lost, let the officer withdraw it."
    )
    raise KeyFault("There is no key of yours", f"{folder}.", remedy)


def _must_be_allowed(register: Register) -> None:
    refused = may(register, Deed.KEEP_KEYS)
    if refused is not None:
        raise RegisterFault("That is not yours to do", refused, "Ask the officer.")
