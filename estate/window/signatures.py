"""What the window asks about keys and signatures: the port that the operations stand behind."""

from collections.abc import Mapping, Sequence
from typing import Protocol

from estate.domain.changes import ChangeSet
from estate.domain.signatures import Key, OwnKey, SignedNoun, Signing
from estate.errors import KeyFault


class Signed(Protocol):
    """What signing came to."""

    @property
    def changes(self) -> ChangeSet:
        """What it changed."""

    @property
    def person(self) -> str:
        """Whose key signed."""


class Signatures(Protocol):
    """Everything about keys and signatures that the window can ask of one open register."""

    def own_keys(self) -> tuple[Sequence[OwnKey], Sequence[KeyFault]]:
        """The keys in the person's profile, and why others there can't be used."""

    def known_keys(self) -> Sequence[Key]:
        """The register's keys."""

    def standing(self, noun: SignedNoun, ids: Sequence[int]) -> Mapping[int, Signing]:
        """How entries stand as to signatures."""

    def sign(self, noun: SignedNoun, ids: Sequence[int], own: OwnKey, passphrase: str, who: str) -> Signed:
        """Sign entries."""

    def countersign(
        self, noun: SignedNoun, ids: Sequence[int], own: OwnKey, passphrase: str, who: str
    ) -> Signed:
        """Countersign what others signed."""

    def make_key(self, person: str, passphrase: str) -> OwnKey:
        """Make a key in the person's profile."""

    def key_text(self, own: OwnKey) -> str:
        """The public half of a key, for the officer."""

    def read_key(self, text: str) -> OwnKey:
        """A public key from its text."""

    def add_key(self, text: str, who: str) -> Key:
        """Add a person's public key to the register."""
