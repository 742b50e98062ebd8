"""Ed25519 keys (RFC 8032): made, locked under a passphrase, signed with and checked with."""

import unicodedata
from dataclasses import dataclass
from hashlib import sha256
from secrets import token_bytes
from typing import Final

from cryptography.exceptions import InvalidSignature, InvalidTag
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat, load_pem_public_key

WORK: Final = 2**17
"""scrypt's cost: 128 MiB and about half a second for each guess of a passphrase."""

_LEAST_WORK, _MOST_WORK = 2**10, 2**20
_BLOCK, _LANES, _KEY_BYTES = 8, 1, 32
_SALT_BYTES, _NONCE_BYTES = 16, 12


@dataclass(frozen=True, slots=True)
class Locked:
    """A private key under a passphrase.

    Attributes:
        work: scrypt's cost N, with r = 8 and p = 1 (RFC 7914).
        sealed: the raw private key under ChaCha20-Poly1305 (RFC 8439).
    """

    work: int
    salt: bytes
    nonce: bytes
    sealed: bytes


def new_private() -> bytes:
    """A new private key, raw."""
    return Ed25519PrivateKey.generate().private_bytes_raw()


def public_of(private: bytes) -> bytes:
    """The public key of a private one, both raw."""
    return Ed25519PrivateKey.from_private_bytes(private).public_key().public_bytes_raw()


def fingerprint_of(public: bytes) -> str:
    """SHA-256 of a raw public key, hex."""
    return sha256(public).hexdigest()


def sign(private: bytes, text: bytes) -> bytes:
    """The signature of a text: 64 bytes."""
    return Ed25519PrivateKey.from_private_bytes(private).sign(text)


def fits(public: bytes, signature: bytes, text: bytes) -> bool:
    """Whether a signature of a text was made with the private key of a public one."""
    try:
        Ed25519PublicKey.from_public_bytes(public).verify(signature, text)
    except (InvalidSignature, ValueError):
        return False
    return True


def lock(private: bytes, passphrase: str, beside: bytes, work: int = WORK) -> Locked:
    """Lock a private key.

    Args:
        private: raw.
        passphrase: in any spelling of its letters that looks alike (Unicode NFKC).
        beside: what is kept in the clear and must not be changed either.
        work: scrypt's cost.
    """
    salt, nonce = token_bytes(_SALT_BYTES), token_bytes(_NONCE_BYTES)
    sealed = ChaCha20Poly1305(_stretched(passphrase, salt, work)).encrypt(nonce, private, beside)
    return Locked(work, salt, nonce, sealed)


def check(locked: Locked) -> None:
    """Look whether what is kept can be a locked key, before scrypt takes the memory that it asks for.

    Raises:
        ValueError: it can't.
    """
    power_of_two = locked.work > 0 and locked.work & (locked.work - 1) == 0
    if not power_of_two or not _LEAST_WORK <= locked.work <= _MOST_WORK:
        raise ValueError("no such cost")
    if len(locked.nonce) != _NONCE_BYTES or len(locked.sealed) < _KEY_BYTES:
        raise ValueError("too short")


def unlock(locked: Locked, passphrase: str, beside: bytes) -> bytes | None:
    """The raw private key; None where the passphrase is wrong, or what is kept was changed."""
    try:
        key = _stretched(passphrase, locked.salt, locked.work)
        return ChaCha20Poly1305(key).decrypt(locked.nonce, locked.sealed, beside)
    except InvalidTag:
        return None


def _stretched(passphrase: str, salt: bytes, work: int) -> bytes:
    words = unicodedata.normalize("NFKC", passphrase).encode()
    return Scrypt(salt=salt, length=_KEY_BYTES, n=work, r=_BLOCK, p=_LANES).derive(words)


def public_pem(public: bytes) -> str:
    """A raw public key as SubjectPublicKeyInfo in PEM (RFC 8410), which openssl reads."""
    key = Ed25519PublicKey.from_public_bytes(public)
    return key.public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo).decode()


def public_of_pem(text: str) -> bytes:
    """The raw public key of a PEM text.

    Raises:
        ValueError: it holds no Ed25519 public key.
    """
    key = load_pem_public_key(text.encode())
    if not isinstance(key, Ed25519PublicKey):
        raise ValueError("another kind of key")
    return key.public_bytes_raw()
