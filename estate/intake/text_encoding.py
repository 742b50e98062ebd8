"""The encoding of a text file that does not name it."""

import re
from collections.abc import Iterator
from itertools import islice

_MARKS = (
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_WESTERN = ("cp1252", "cp850", "mac_roman")
"""One byte a letter: Windows, the command window of old, the Mac of old; the first wins a draw."""

_LAST_RESORT = "latin-1"
_HIGH_BYTES = re.compile(rb"[\x80-\xff]{1,100}")
_HIGH = re.compile(r".?[^\x00-\x7f].?", re.DOTALL)
_AT_HOME = frozenset("àâäáãåæçéèêëíìîïñóòôöõøœúùûüýÿßÀÂÄÁÃÅÆÇÉÈÊËÍÌÎÏÑÓÒÔÖÕØŒÚÙÛÜÝ")
_SIGNS = frozenset("°²³½¼¾±µ×÷§£€©®™–—‘’“”„‚…•·«»¿¡ªº≤≥≈Ω\N{NO-BREAK SPACE}")
_ENOUGH_BYTES = 200_000
_ENOUGH_PLACES = 5_000
_PAIR_SHARE = 0.3


def encodings_of(content: bytes) -> Iterator[str]:
    """The encodings to try, the likeliest first: by the file's mark, by its zeros, by what reads best."""
    marked = next((encoding for mark, encoding in _MARKS if content.startswith(mark)), None)
    certain = marked or _wide(content[:_ENOUGH_BYTES])
    if certain:
        yield certain
        return
    yield "utf-8"
    yield from _by_look(content)
    yield _LAST_RESORT


def _wide(start: bytes) -> str | None:
    """UTF-16 without a mark: every other byte of most western text is zero."""
    pairs = max(len(start) // 2, 1)
    evens, odds = start[::2].count(0) / pairs, start[1::2].count(0) / pairs
    if odds > _PAIR_SHARE and odds > 4 * evens:
        return "utf-16-le"
    if evens > _PAIR_SHARE and evens > 4 * odds:
        return "utf-16-be"
    return None


def _by_look(content: bytes) -> list[str]:
    """The one-byte encodings by how much of what is not ASCII makes sense among its neighbours."""
    found = islice(_HIGH_BYTES.finditer(content), _ENOUGH_PLACES)
    lines = b"\n".join(content[max(each.start() - 1, 0) : each.end() + 1] for each in found)
    return sorted(_WESTERN, key=lambda encoding: -_sense(lines, encoding))


def _sense(lines: bytes, encoding: str) -> float:
    text = lines.decode(encoding, "replace")
    return sum(_sense_of(found[0]) for found in _HIGH.finditer(text))


def _sense_of(found: str) -> float:
    """How well a character fits between its neighbours, from -1 to 1."""
    at = next(index for index, letter in enumerate(found) if not letter.isascii())
    letter, before, after = found[at], found[:at], found[at + 1 :]
    if letter in _AT_HOME:
        beside = [each for each in (before, after) if each.isalpha()]
        odd_case = (letter.isupper() and before.islower()) or (letter.islower() and after.isupper())
        return -1.0 if odd_case or not beside else 1.0
    if letter == "°":
        return 1.0 if not after or after in "CF,; \t\r\n" else 0.0
    if letter in _SIGNS:
        within = before.isalpha() and after.isalpha()
        return -0.5 if within and letter not in "’‘·" else 0.4
    return -1.0
