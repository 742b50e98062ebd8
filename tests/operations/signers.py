"""People with keys, for tests of signing; their passphrases cost little to guess."""

from dataclasses import dataclass
from pathlib import Path

from estate.domain.signatures import OwnKey, SignedNoun
from estate.operations.keep_keys import add_key, key_text, make_key
from estate.operations.register import Register
from estate.operations.sign_entries import Signed, countersign, sign
from tests.operations.conftest import NOW, WHO

PASSPHRASE = "seven grey herons wade"
LIGHT = 2**10


@dataclass(frozen=True)
class Signer:
    """A person's key and what they do with it."""

    own: OwnKey

    def signs(self, register: Register, *ids: int, noun: SignedNoun = SignedNoun.VISIT) -> Signed:
        return sign(register, noun, ids, self.own, PASSPHRASE, who=self.own.person, at=NOW)

    def countersigns(self, register: Register, *ids: int, noun: SignedNoun = SignedNoun.VISIT) -> Signed:
        return countersign(register, noun, ids, self.own, PASSPHRASE, who=self.own.person, at=NOW)


def signer(register: Register | None, folder: Path, person: str) -> Signer:
    """A person with a key of their own; in the register, where one is given."""
    own = make_key(person, PASSPHRASE, folder / person, at=NOW, work=LIGHT)
    if register is not None:
        add_key(register, key_text(own), who=WHO, at=NOW)
    return Signer(own)
