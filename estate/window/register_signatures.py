"""Keys and signatures over the real operations."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from pathlib import Path

from estate.domain.signatures import Key, OwnKey, SignedNoun, Signing
from estate.errors import KeyFault
from estate.operations import browse_signatures, keep_keys, sign_entries
from estate.operations.register import Register


class RegisterSignatures:
    """Runs the operations about keys and signatures on one open register.

    Args:
        register: the open register.
        now: tells the moment, UTC.
        folder: of the person's keys.
    """

    def __init__(self, register: Register, now: Callable[[], datetime], folder: Path) -> None:
        self._register = register
        self._now = now
        self._folder = folder

    def own_keys(self) -> tuple[Sequence[OwnKey], Sequence[KeyFault]]:
        """The keys in the person's profile, and why others there can't be used."""
        return keep_keys.own_keys(self._folder)

    def known_keys(self) -> Sequence[Key]:
        """The register's keys."""
        return keep_keys.keys(self._register)

    def standing(self, noun: SignedNoun, ids: Sequence[int]) -> Mapping[int, Signing]:
        """How entries stand as to signatures."""
        return browse_signatures.signing_of(self._register, noun, ids)

    def sign(
        self, noun: SignedNoun, ids: Sequence[int], own: OwnKey, passphrase: str, who: str
    ) -> sign_entries.Signed:
        """Sign entries."""
        return sign_entries.sign(self._register, noun, ids, own, passphrase, who=who, at=self._now())

    def countersign(
        self, noun: SignedNoun, ids: Sequence[int], own: OwnKey, passphrase: str, who: str
    ) -> sign_entries.Signed:
        """Countersign what others signed."""
        return sign_entries.countersign(self._register, noun, ids, own, passphrase, who=who, at=self._now())

    def make_key(self, person: str, passphrase: str) -> OwnKey:
        """Make a key in the person's profile."""
        return keep_keys.make_key(person, passphrase, self._folder, at=self._now().replace(microsecond=0))

    def key_text(self, own: OwnKey) -> str:
        """The public half of a key, for the officer."""
        return keep_keys.key_text(own)

    def read_key(self, text: str) -> OwnKey:
        """A public key from its text."""
        return keep_keys.read_key_text(text)

    def add_key(self, text: str, who: str) -> Key:
        """Add a person's public key to the register."""
        return keep_keys.add_key(self._register, text, who=who, at=self._now())
