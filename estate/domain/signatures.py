"""Keys of people, and how visits and batches stand as to signatures: who vouches for them, since when."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Final

from estate.domain.phrases import phrase, together

CAUTION: Final = "A signature says who vouches for the entry. It does not say that the reading is true."
_SHOWN: Final = 32
_GROUP: Final = 4


class SignedNoun(StrEnum):
    """What can be signed."""

    VISIT = "visit"
    BATCH = "batch"


class SignerRole(StrEnum):
    """As what someone signs."""

    SIGNED = "signed"
    COUNTERSIGNED = "countersigned"


class SigningState(StrEnum):
    """How an entry stands as to signatures."""

    UNSIGNED = "unsigned"
    SIGNED = "signed"
    COUNTERSIGNED = "signed and countersigned"
    MISFIT = "does not fit"
    WITHDRAWN = "key withdrawn before the signing"


def shown_fingerprint(fingerprint: str) -> str:
    """A fingerprint as people compare it: half of it (128 bits), in groups of four."""
    half = fingerprint[:_SHOWN]
    return " ".join(half[start : start + _GROUP] for start in range(0, len(half), _GROUP))


def same_person(one: str, other: str) -> bool:
    """Whether two names are one, whatever their case and spaces."""
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """Since when a key no longer counts, who said so, when and why."""

    since: datetime
    who: str
    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Key:
    """A person's public key in the register.

    Attributes:
        public: hex of the raw Ed25519 key.
        fingerprint: SHA-256 of the raw key, hex.
        made_at: when the person made it.
        added_by, at: who added it to the register, and when.
        withdrawal: None where it counts.
    """

    id: int
    person: str
    public: str
    fingerprint: str
    made_at: datetime
    added_by: str
    at: datetime
    withdrawal: Withdrawal | None = None

    def withdrawn_at(self, moment: datetime) -> bool:
        """Whether it had been withdrawn by a moment."""
        return self.withdrawal is not None and self.withdrawal.since <= moment


@dataclass(frozen=True, slots=True)
class OwnKey:
    """A key in a person's own profile; opening it takes its passphrase.

    Attributes:
        public, fingerprint: hex, as of a `Key`.
        proof: hex; the key's own signature over person, moment and key.
        file: where it is kept.
    """

    person: str
    public: str
    fingerprint: str
    made_at: datetime
    proof: str
    file: Path


@dataclass(frozen=True, slots=True)
class Signature:
    """One signature, checked.

    Attributes:
        at: when it was made; None where what is kept is no moment.
        who: who sat at the program.
        fault: why it does not fit, in words; empty where it does.
        withdrawn: whether its key had been withdrawn before it was made.
        batch_id: the batch that was signed, of a visit that is covered by its batch's signature.
        covers: the signature that a countersignature covers.
    """

    id: int
    role: SignerRole
    person: str
    fingerprint: str
    at: datetime | None
    who: str
    fault: str = ""
    withdrawn: bool = False
    batch_id: int | None = None
    covers: int | None = None

    @property
    def good(self) -> bool:
        """Whether it fits, by a key that counted then."""
        return not self.fault and not self.withdrawn

    @property
    def words(self) -> str:
        """It in a line."""
        said = phrase("{role} by {person}", role=phrase(self.role.value), person=self.person)
        if self.batch_id is not None:
            said = phrase(
                "{role} with batch {batch} by {person}",
                role=phrase(self.role.value),
                batch=self.batch_id,
                person=self.person,
            )
        if self.at is not None:
            said = phrase("{said}, {at:%d %b %Y %H:%M} UTC", said=said, at=self.at)
        if self.fault:
            return phrase("{said}: does not fit, {fault}", said=said, fault=self.fault)
        if self.withdrawn:
            return phrase("{said}: {state}", said=said, state=phrase(SigningState.WITHDRAWN.value))
        return said


@dataclass(frozen=True, slots=True)
class Signing:
    """How an entry stands, and the signatures that bear on it, in the order in which they were made."""

    state: SigningState = SigningState.UNSIGNED
    signatures: tuple[Signature, ...] = ()

    @property
    def words(self) -> str:
        """All of it in a line."""
        if not self.signatures:
            return phrase(self.state.value)
        return together(*(each.words for each in self.signatures), between="; ")

    @property
    def people(self) -> tuple[str, ...]:
        """Who vouches for the entry by a good signature."""
        return tuple(dict.fromkeys(each.person for each in self.signatures if each.good))


UNSIGNED: Final = Signing()


def signing(signatures: Sequence[Signature]) -> Signing:
    """What the signatures of one entry come to; one that does not fit outweighs all others."""
    found = tuple(sorted(signatures, key=lambda each: each.id))
    return Signing(_state(found), found)


def _state(found: Sequence[Signature]) -> SigningState:
    if any(each.fault for each in found):
        return SigningState.MISFIT
    good = {each.id for each in found if each.role is SignerRole.SIGNED and not each.withdrawn}
    if not good:
        return SigningState.WITHDRAWN if found else SigningState.UNSIGNED
    covered = any(each.covers in good for each in found if not each.withdrawn)
    return SigningState.COUNTERSIGNED if covered else SigningState.SIGNED
