"""Sign visits and batches, and countersign what another person signed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.phrases import phrase
from estate.domain.roles import Deed
from estate.domain.signatures import (
    Key,
    OwnKey,
    Signature,
    SignedNoun,
    SignerRole,
    Signing,
    SigningState,
    same_person,
    shown_fingerprint,
)
from estate.errors import EntryFault, KeyFault, NotFoundFault, RegisterFault
from estate.operations.make_roles import may
from estate.operations.register import Register
from estate.store import identity, signatures, statements
from estate.store import keys as crypto
from estate.store.canonical import utc
from estate.store.key_files import open_key
from estate.store.retrying import retried
from estate.store.signing import signings
from estate.store.transaction import Transaction, writing

_SHOWN: Final = 12


@dataclass(frozen=True, slots=True)
class Signed:
    """What signing came to.

    Attributes:
        person: whose key signed.
        signed: how many signatures were added.
        already: how many were there by this key before.
    """

    changes: ChangeSet
    person: str
    signed: int
    already: int


@retried
def sign(
    register: Register,
    noun: SignedNoun,
    ids: Collection[int],
    own: OwnKey,
    passphrase: str,
    *,
    who: str,
    at: datetime,
) -> Signed:
    """Sign visits or batches, all or none of them; what the key signed before is left as it is.

    Args:
        register: the open register.
        noun: what is signed.
        ids: which ones.
        own: the key, whose public half is in the register.
        passphrase: of the key.
        who: who sits at the program.
        at: now, with its time zone.

    Raises:
        KeyFault: the key or the passphrase can't be used, or the register does not take the key.
        NotFoundFault: an entry is not there.
        EntryFault: an entry is void or its batch undone, or a signature of it does not fit.
        RegisterFault: the register can't be written, or that is not the login's to do.
    """
    _must_be_allowed(register, Deed.RECORD)
    private = open_key(own, passphrase)
    with writing(register.database, who, f"signed {_counted(noun, ids)}", at) as tx:
        key = _counting_key(tx, own)
        found = _standing(tx, noun, ids)
        signed = {row_id for row_id, each in found.items() if any(_mine(each, key, SignerRole.SIGNED))}
        fresh = sorted(found.keys() - signed)
        _add(tx, key, private, noun.value, SignerRole.SIGNED, fresh)
        _touch(tx, noun, fresh)
    return Signed(tx.changes, key.person, len(fresh), len(signed))


@retried
def countersign(
    register: Register,
    noun: SignedNoun,
    ids: Collection[int],
    own: OwnKey,
    passphrase: str,
    *,
    who: str,
    at: datetime,
) -> Signed:
    """Countersign what others signed: every good signature of the entries by another person is covered.

    Args: as of `sign`.

    Raises:
        KeyFault: the key or the passphrase can't be used, or the register does not take the key.
        NotFoundFault: an entry is not there.
        EntryFault: an entry is not signed by another person, is void or its batch undone, or a signature of
            it does not fit.
        RegisterFault: the register can't be written, or that is not the login's to do.
    """
    _must_be_allowed(register, Deed.COUNTERSIGN)
    private = open_key(own, passphrase)
    with writing(register.database, who, f"countersigned {_counted(noun, ids)}", at) as tx:
        key = _counting_key(tx, own)
        found = _standing(tx, noun, ids)
        asked = {row_id: set(_by_others(each, key)) for row_id, each in found.items()}
        remedy = phrase("Another person signs first; the countersignature covers that signature.")
        bare = [row_id for row_id, several in asked.items() if not several]
        _refuse("Not signed by another person", noun, bare, remedy)
        wanted = set[int]().union(*asked.values())
        done = {covered for each in found.values() for covered in _mine(each, key, SignerRole.COUNTERSIGNED)}
        fresh = sorted(wanted - done)
        _add(tx, key, private, statements.SIGNATURE, SignerRole.COUNTERSIGNED, fresh)
        _touch(tx, noun, ids if fresh else ())
    return Signed(tx.changes, key.person, len(fresh), len(wanted) - len(fresh))


def _standing(tx: Transaction, noun: SignedNoun, ids: Collection[int]) -> Mapping[int, Signing]:
    """How the entries stand as to signatures; each must be there, count, and have no signature amiss."""
    there, void = signatures.there_and_void(tx.session, noun.value, ids)
    missing = sorted(set(ids) - there)
    if missing:
        detail = phrase("{noun} {listed}.", noun=phrase(noun.value), listed=_listed(missing))
        raise NotFoundFault("No such entry", detail, "Read the register afresh.")
    _refuse("It does not count any more", noun, void & set(ids), "Sign the entry that stands in its place.")
    found = signings(tx.session, noun.value, frozenset(ids))
    odd = [row_id for row_id, each in found.items() if each.state is SigningState.MISFIT]
    _refuse("A signature of it does not fit", noun, odd, "Verify the register and clear that up first.")
    return found


def _refuse(title: str, noun: SignedNoun, ids: Collection[int], remedy: str) -> None:
    if ids:
        raise EntryFault(
            title, phrase("{noun} {listed}.", noun=phrase(noun.value), listed=_listed(sorted(ids))), remedy
        )


def _listed(ids: list[int]) -> str:
    shown = ", ".join(map(str, ids[:_SHOWN]))
    return (
        phrase("{shown} and {more} more", shown=shown, more=len(ids) - _SHOWN) if len(ids) > _SHOWN else shown
    )


def _counted(noun: SignedNoun, ids: Collection[int]) -> str:
    if len(ids) == 1:
        return f"{noun.value} {next(iter(ids))}"
    return f"{len(ids)} {'visits' if noun is SignedNoun.VISIT else 'batches'}"


def _direct(found: Signing) -> Iterable[Signature]:
    return (each for each in found.signatures if each.batch_id is None)


def _mine(found: Signing, key: Key, role: SignerRole) -> Iterable[int]:
    """What a key signed already: its own signatures, or those that it countersigned."""
    for each in _direct(found):
        if each.role is role and each.fingerprint == key.fingerprint:
            yield each.id if each.covers is None else each.covers


def _by_others(found: Signing, key: Key) -> Iterable[int]:
    for each in _direct(found):
        alike = each.fingerprint == key.fingerprint or same_person(each.person, key.person)
        if each.role is SignerRole.SIGNED and not each.withdrawn and not alike:
            yield each.id


def _counting_key(tx: Transaction, own: OwnKey) -> Key:
    found = [each for each in signatures.keys(tx.session) if each.fingerprint == own.fingerprint]
    shown = f"{own.person}, {shown_fingerprint(own.fingerprint)}"
    if not found:
        remedy = phrase(
            "Give its public half to the officer, who adds it after comparing the fingerprint with you."
        )
        raise KeyFault("The register does not know the key", f"{shown}.", remedy)
    if found[0].withdrawal is not None:
        detail = f"{shown}: {found[0].withdrawal.why}."
        raise KeyFault("The key was withdrawn", detail, "Make a new one and give it to the officer.")
    return found[0]


def _add(
    tx: Transaction, key: Key, private: bytes, noun: str, role: SignerRole, ids: Collection[int]
) -> None:
    register, at = identity.identifier(tx.session), utc(tx.at).isoformat()
    signer = statements.Signer(register, key.person, key.fingerprint, role.value, at)
    rows = []
    for row_id, told in statements.told_rows(tx.session, noun, ids).items():
        said = statements.statement(signer, noun, row_id, told)
        made = crypto.sign(private, said.encode()).hex()
        of = {"noun": noun, "row_id": row_id, "digest": statements.digest_of(said)}
        rows.append({**of, "person_key_id": key.id, "signature": made, "role": role.value})
    signatures.add_signatures(tx, rows)


def _touch(tx: Transaction, noun: SignedNoun, ids: Collection[int]) -> None:
    if noun is SignedNoun.BATCH:
        tx.touch(batches=ids, everything=bool(ids))
    else:
        tx.touch(visits=ids, outlets=signatures.outlets_of_visits(tx.session, ids))


def _must_be_allowed(register: Register, deed: Deed) -> None:
    refused = may(register, deed)
    if refused is not None:
        raise RegisterFault("That is not yours to do", refused, "Ask the officer.")
