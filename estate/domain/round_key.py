"""The key of a round sheet's row: which register wrote it for which outlet, proved by a check number."""

from dataclasses import dataclass

_BEGINS = "outlet"
_LONGEST = 200
_MODULUS = 97


@dataclass(frozen=True, slots=True)
class RoundKey:
    """What a key names.

    Attributes:
        register: identifier of the register that wrote it.
    """

    register: str
    outlet_id: int


def key_text(key: RoundKey) -> str:
    """A key as it stands in a cell, such as ``outlet 17 of mx-1, check 05``.

    It has words in it, so that no spreadsheet program takes it for a number, a date or a time.
    """
    body = f"{_BEGINS} {key.outlet_id} of {key.register}"
    return f"{body}, check {_check(body):02d}"


def read_key(text: str) -> RoundKey | None:
    """What a key says; None where it is no key, or was changed since it was written.

    Args:
        text: the cell's text; white space around and between its words does not matter.
    """
    said = " ".join(text.split())
    body, parted, check = said.rpartition(", check ")
    first, _, rest = body.partition(" ")
    number, _, register = rest.partition(" of ")
    if not parted or first != _BEGINS or len(said) > _LONGEST or not _whole(number) or not register:
        return None
    key = RoundKey(register, int(number))
    return key if key_text(key) == said and _whole(check) else None


def _whole(text: str) -> bool:
    return text.isascii() and text.isdigit()


def _check(body: str) -> int:
    """Two digits by which every single changed character and every swap of two neighbours shows.

    As in ISO 7064 MOD 97-10, with the bytes of the text as its digits.
    """
    return _MODULUS + 1 - int.from_bytes(body.encode(errors="surrogatepass"), "big") * 100 % _MODULUS
