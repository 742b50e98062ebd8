"""Checking signatures: each against the row as it is, its key, and what it says of itself."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Final

from sqlalchemy import Table, select, text
from sqlalchemy.orm import Session

from estate.domain.signatures import Signature, SignerRole, Signing, same_person, signing
from estate.store import keys
from estate.store.parting import parts
from estate.store.statements import (
    SIGNATURE,
    Signer,
    digest_of,
    rows_where,
    statement,
    told_rows,
)
from estate.store.trust_schema import PersonKeyRow, SignatureRow
from estate.store.visit_schema import VisitRow

Values = Mapping[str, Any]
SIGNATURES: Final[Table] = SignatureRow.metadata.tables[SIGNATURE]
_KEYS: Final[Table] = PersonKeyRow.metadata.tables["person_key"]
_ROLES: Final = {"visit": SignerRole.SIGNED, "batch": SignerRole.SIGNED, SIGNATURE: SignerRole.COUNTERSIGNED}

NO_KEY: Final = "its key is not in the register"
OTHER_KEY: Final = "the key in the register is not the one of its fingerprint"
NOTHING_SIGNED: Final = "what it covers is not there"
NOT_ITS_ROLE: Final = "what it covers is not signed in that role"
CHANGED: Final = "what it covers is not what was signed"
NOT_MADE_WITH: Final = "it was not made with the key of the one whom it names"
SAME_PERSON: Final = "it is by the signer of what it covers"


@dataclass(frozen=True, slots=True)
class Stated:
    """A signature with the statement that it should be of, and the raw public key."""

    statement: str
    signature: bytes
    public: bytes


class Checker:
    """Checks signatures against the register as one session reads it."""

    def __init__(self, session: Session) -> None:
        self._session = session
        found = session.execute(text("SELECT identifier FROM register")).scalars().first()
        self.register = "" if found is None else str(found)
        rows = list(rows_where(session, _KEYS))
        self._keys = {row["id"]: row for row in rows if row["withdraws"] is None}
        self._withdrawn = {row["withdraws"]: row for row in reversed(rows) if row["withdraws"] is not None}

    def of(self, noun: str, ids: Collection[int]) -> Iterator[tuple[int, Signature]]:
        """The signatures of rows, each with its row's id, and the countersignatures of these."""
        rows = self._rows(noun, ids)
        entry_of = {row["id"]: row["row_id"] for row in rows}
        yield from zip(entry_of.values(), self.checked(noun, rows), strict=True)
        further = self._rows(SIGNATURE, entry_of)
        for row, found in zip(further, self.checked(SIGNATURE, further), strict=True):
            yield entry_of[row["row_id"]], replace(found, covers=row["row_id"])

    def _rows(self, noun: str, ids: Collection[int]) -> list[Values]:
        of_noun = SIGNATURES.c.noun == noun
        asked = [SIGNATURES.c.row_id.in_(part) for part in parts(ids)]
        return [row for each in asked for row in rows_where(self._session, SIGNATURES, of_noun, each)]

    def checked(self, noun: str, rows: Sequence[Values]) -> Iterator[Signature]:
        """Check signatures of rows of one table, in their order."""
        told = self._told(noun, {row["row_id"] for row in rows if type(row["row_id"]) is int})
        first = {row_id: values["row"] for row_id, values in told.items()} if noun == SIGNATURE else {}
        for row in rows:
            key = self._keys.get(row["person_key_id"])
            fault = NO_KEY if key is None else self._fault(row, key, told.get(row["row_id"]))
            if key is not None and not fault and row["row_id"] in first:
                fault = self._not_by_another(key, first[row["row_id"]])
            yield self._signature(row, key, fault)

    def _told(self, noun: str, ids: Collection[int]) -> Mapping[int, Values]:
        return told_rows(self._session, noun, ids) if noun in _ROLES else {}

    def _fault(self, row: Values, key: Values, told: Values | None) -> str:
        if keys.fingerprint_of(_bytes(key["key"])) != key["fingerprint"]:
            return OTHER_KEY
        if told is None:
            return NOTHING_SIGNED
        if row["role"] != _ROLES[row["noun"]]:
            return NOT_ITS_ROLE
        found = self._stated(row, key, told)
        if digest_of(found.statement) != row["digest"]:
            return CHANGED
        fits = keys.fits(found.public, found.signature, found.statement.encode())
        return "" if fits else NOT_MADE_WITH

    def _stated(self, row: Values, key: Values, told: Values) -> Stated:
        signer = Signer(self.register, key["person"], key["fingerprint"], row["role"], row["at"])
        said = statement(signer, row["noun"], row["row_id"], told)
        return Stated(said, _bytes(row["signature"]), _bytes(key["key"]))

    def stated(self, row: Values) -> Stated | None:
        """The statement of a signature; None where its key or what it covers is not there."""
        key, told = self._keys.get(row["person_key_id"]), self._told(row["noun"], {row["row_id"]})
        if key is None or row["row_id"] not in told:
            return None
        return self._stated(row, key, told[row["row_id"]])

    def _not_by_another(self, key: Values, first: Values) -> str:
        if first.get("role") != SignerRole.SIGNED:
            return NOT_ITS_ROLE
        by = self._keys.get(first.get("person_key_id"))
        alike = by is not None and same_person(str(by["person"]), str(key["person"]))
        return SAME_PERSON if alike else ""

    def _signature(self, row: Values, key: Values | None, fault: str) -> Signature:
        known = {"person": "someone unknown", "fingerprint": ""} if key is None else key
        role = SignerRole.COUNTERSIGNED if row["noun"] == SIGNATURE else SignerRole.SIGNED
        at = _moment(row["at"])
        withdrawn = self._withdrawn.get(row["person_key_id"])
        since = None if withdrawn is None else _moment(withdrawn["withdrawn_at"])
        late = at is not None and since is not None and since <= at
        told = (str(known["person"]), str(known["fingerprint"]), at, str(row["who"]))
        return Signature(row["id"], role, *told, fault, late)

    def made_after_withdrawal(self, row: Values) -> bool:
        """Whether the register told already that the key is withdrawn when a signature was made."""
        withdrawn, at = self._withdrawn.get(row["person_key_id"]), _moment(row["at"])
        noted = None if withdrawn is None else _moment(withdrawn["at"])
        return at is not None and noted is not None and at > noted


def _bytes(told: object) -> bytes:
    try:
        return bytes.fromhex(str(told))
    except ValueError:
        return b""


def _moment(told: object) -> datetime | None:
    try:
        moment = datetime.fromisoformat(str(told))
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def signings(session: Session, noun: str, ids: Collection[int]) -> dict[int, Signing]:
    """How rows stand as to signatures; a visit is also covered by the signature of its batch.

    Args:
        session: an open session.
        noun: ``visit`` or ``batch``.
        ids: the rows.
    """
    found: dict[int, list[Signature]] = {row_id: [] for row_id in ids}
    checker = Checker(session)
    for row_id, each in checker.of(noun, ids):
        found[row_id].append(each)
    if noun == "visit":
        batch_of = _signed_batches(session, ids)
        of_batches = signings(session, "batch", frozenset(batch_of.values()))
        for visit_id, batch_id in batch_of.items():
            several = of_batches[batch_id].signatures
            found[visit_id] += [replace(each, batch_id=batch_id) for each in several]
    return {row_id: signing(several) for row_id, several in found.items()}


def stated(session: Session, signature_id: int) -> Stated | None:
    """A signature with its statement; None where it, its key or what it covers is not there."""
    rows = list(rows_where(session, SIGNATURES, SIGNATURES.c.id == signature_id))
    return Checker(session).stated(rows[0]) if rows else None


def _signed_batches(session: Session, ids: Collection[int]) -> dict[int, int]:
    signed = select(SIGNATURES.c.row_id).where(SIGNATURES.c.noun == "batch")
    query = select(VisitRow.id, VisitRow.batch_id).where(VisitRow.batch_id.in_(signed))
    rows = [row for part in parts(ids) for row in session.execute(query.where(VisitRow.id.in_(part)))]
    return {row.id: row.batch_id for row in rows if row.batch_id is not None}
