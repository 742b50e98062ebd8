"""Signatures that do not fit, in words, for verifying a register."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any, Final

from sqlalchemy.orm import Session

from estate.domain.trust import Misfit
from estate.store import misfits, signing
from estate.store.canonical import converters, settled
from estate.store.raw_rows import raw_rows
from estate.store.signing import SIGNATURES, Checker
from estate.store.statements import SIGNATURE, can_be_signed

Values = Mapping[str, Any]
AFTER_WITHDRAWAL: Final = "it was made after its key had been withdrawn"
NO_NOUN: Final = "it covers nothing that can be signed"
_ASK: Final = "Ask the signer; until that is cleared up, take the entry as unsigned."
_MEANS: Final[Mapping[str, str]] = {
    signing.CHANGED: "The entry, or the signature's moment, role or signer, was changed past the program.",
    signing.NOT_MADE_WITH: "It was made with another key, or changed past the program.",
    signing.SAME_PERSON: "A countersignature by the same person shows nothing more.",
    AFTER_WITHDRAWAL: "Someone may have the key who should not.",
}
_ROWS_AT_ONCE: Final = 1000


def signature_misfits(session: Session) -> Iterator[Misfit]:
    """Check every signature, in the order in which they were added."""
    names = tuple(SIGNATURES.columns.keys())
    every = settled(raw_rows(session, SIGNATURES, names), converters(SIGNATURES, names))
    rows = (dict(zip(names, row, strict=True)) for row in every)
    checker: Checker | None = None
    while part := list(islice(rows, _ROWS_AT_ONCE)):
        checker = checker or Checker(session)
        faults = _faults(checker, part)
        for row in part:
            if row["id"] in faults:
                yield _misfit(session, row, *faults[row["id"]])


def _faults(checker: Checker, rows: Sequence[Values]) -> dict[int, tuple[str, str]]:
    """What is wrong with signatures that do not fit, and who is said to have signed, by id."""
    found: dict[int, tuple[str, str]] = {}
    for noun in {row["noun"] for row in rows}:
        of_noun = [row for row in rows if row["noun"] == noun]
        if not can_be_signed(noun):
            found |= {row["id"]: (NO_NOUN, "") for row in of_noun}
            continue
        for row, each in zip(of_noun, checker.checked(noun, of_noun), strict=True):
            late = AFTER_WITHDRAWAL if checker.made_after_withdrawal(row) else ""
            if each.fault or late:
                found[row["id"]] = (each.fault or late, each.person)
    return found


def _misfit(session: Session, row: Values, fault: str, person: str) -> Misfit:
    noun, row_id = row["noun"], row["row_id"]
    if noun == "visit":
        place = misfits.named(session, SIGNATURE, row["id"], {"visit_id": row_id})
    else:
        place = f"signature {row['id']} ({noun} {row_id})"
    by = f" (said to be by {person})" if person else ""
    return Misfit(SIGNATURE, row["id"], None, place, f"{fault}{by}", _MEANS.get(fault, _ASK))
