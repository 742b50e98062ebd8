"""References of outlets as people write them, and the key they are compared by."""

import re
import unicodedata

_NEITHER = re.compile(r"[^0-9A-Za-z]+")
_BELOW_ZERO = re.compile(r"(?:^\s*[-\u2212\u2013]\s*|\s[-\u2212\u2013])\d")


def reference_key(reference: str) -> str:
    """Fold a reference to the form it is compared by: no case, spaces or punctuation.

    Args:
        reference: as written, such as ``" md g g02 whb1"`` or ``"MD/G/G02/WHB1"``.

    Returns:
        Lower-case letters and digits only, such as ``"mdgg02whb1"``; empty if there are none.
    """
    if reference.isascii():
        return _NEITHER.sub("", reference).lower()
    folded = unicodedata.normalize("NFKC", reference).casefold()
    return "".join(character for character in folded if character.isalnum())


def level_key(name: str) -> str:
    """Fold the name of a level as a reference is folded, but that a minus before a number counts.

    Args:
        name: as written, such as ``"-1"``, ``"Level -1"`` or ``"1"``; a dash inside a word, as in ``"G-01"``,
            parts things and is no minus.

    Returns:
        Such as ``"-1"``, ``"-level1"`` or ``"1"``.
    """
    return f"-{reference_key(name)}" if _BELOW_ZERO.search(name) else reference_key(name)
