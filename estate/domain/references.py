"""References of outlets as people write them, and the key they are compared by."""

import re
import unicodedata

_NEITHER = re.compile(r"[^0-9A-Za-z]+")


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
