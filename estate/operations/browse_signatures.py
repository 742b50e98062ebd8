"""How visits and batches stand as to signatures, and each signature as files that others can check."""

from collections.abc import Collection, Mapping
from pathlib import Path

from estate.domain.phrases import phrase
from estate.domain.signatures import SignedNoun, Signing
from estate.errors import NotFoundFault, ReportFault
from estate.operations.register import Register
from estate.store import keys as crypto
from estate.store import signatures
from estate.store.signing import signings, stated


def signing_of(register: Register, noun: SignedNoun, ids: Collection[int]) -> Mapping[int, Signing]:
    """How entries stand as to signatures; each signature is checked against the entry as it is.

    Args:
        register: the open register.
        noun: what is asked for; a visit is also covered by the signature of its batch.
        ids: which ones.

    Raises:
        NotFoundFault: an entry is not there, and no signature of it either.
    """
    with register.database.reading() as session:
        found = signings(session, noun.value, ids)
        there, _ = signatures.there_and_void(session, noun.value, ids)
    missing = sorted(row_id for row_id, each in found.items() if row_id not in there and not each.signatures)
    if missing:
        detail = phrase("{noun} {missing}.", noun=phrase(noun.value), missing=", ".join(map(str, missing)))
        raise NotFoundFault("No such entry", detail, "Read the register afresh.")
    return found


def write_proof(register: Register, signature_id: int, folder: Path) -> tuple[Path, Path, Path]:
    """Write what a signature covers, the signature and the key, for checking without this program.

    Args:
        register: the open register.
        signature_id: the signature.
        folder: made if it is missing; files of the same names are replaced.

    Returns:
        The files: the statement (``signature-N.json``), the signature (``.bin``) and the key (``.pem``).

    Raises:
        NotFoundFault: there is no such signature, or what it covers or its key is not there.
        ReportFault: the folder can't be written.
    """
    with register.database.reading() as session:
        found = stated(session, signature_id)
    if found is None:
        detail = phrase("Number {signature_id}, or what it covers, or its key.", signature_id=signature_id)
        raise NotFoundFault("No such signature", detail, "Verify the register; it says what is missing.")
    contents = (found.statement.encode(), found.signature, crypto.public_pem(found.public).encode())
    names = (folder / f"signature-{signature_id}{ending}" for ending in (".json", ".bin", ".pem"))
    files = (next(names), next(names), next(names))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, content in zip(files, contents, strict=True):
            path.write_bytes(content)
    except OSError as error:
        remedy = phrase("Choose a folder that you may write.")
        raise ReportFault("The files can't be written", f"{folder}: {error.strerror}.", remedy) from error
    return files
