"""Checkpoints: how the ledger ended, kept away from the register, so that one written anew shows."""

import json
import re
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from estate.domain.phrases import phrase
from estate.domain.trust import Checkpoint, KnownHead, Verification
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store import identity
from estate.store.chain import head
from estate.store.retrying import retried
from estate.store.transaction import writing
from estate.store.trust_schema import CheckpointRow

_GROUP: Final = 8
_DIGEST: Final = re.compile(r"[0-9a-f]{64}")
_LINES: Final = {
    "name": "Register",
    "identifier": "Identifier",
    "at": "Taken at",
    "who": "Taken by",
    "entries": "Entries",
    "entry_id": "Last entry",
    "digest": "Digest",
}


@retried
def make_checkpoint(register: Register, *, who: str, at: datetime) -> Checkpoint:
    """Take how the ledger ends now, and keep that in the register too.

    Args:
        who: who takes it.
        at: now, with its time zone.

    Returns:
        What to print or mail, see `checkpoint_text`.
    """
    with writing(register.database, who, "took a checkpoint", at) as tx:
        last = head(tx.session)
        row = CheckpointRow(
            at=at, who=who, last_entry_id=last.entry_id, digest=last.digest, entries=last.entry_id
        )
        tx.insert(row)
        name, identifier = identity.name(tx.session), identity.identifier(tx.session)
    return Checkpoint(name, identifier, at, who, last.entry_id, last.digest, last.entry_id)


def checkpoint_text(checkpoint: Checkpoint) -> str:
    """A few lines to print or mail; `read_checkpoint` reads them again."""
    groups = [checkpoint.digest[start : start + _GROUP] for start in range(0, 64, _GROUP)]
    values = {
        "name": " ".join(checkpoint.name.split()),
        "identifier": checkpoint.identifier,
        "at": checkpoint.at.isoformat(),
        "who": " ".join(checkpoint.who.split()),
        "entries": checkpoint.entries,
        "entry_id": checkpoint.entry_id,
        "digest": " ".join(groups),
    }
    lines = [f"{label}: {values[key]}" for key, label in _LINES.items()]
    return "\n".join(["Checkpoint of a register's ledger", *lines, ""])


def read_checkpoint(text: str) -> Checkpoint:
    """A checkpoint from its text, however a mail program broke or quoted the lines.

    Raises:
        EntryFault: the text is no checkpoint, or a part of it is missing.
    """
    found: dict[str, str] = {}
    for line in text.splitlines():
        label, _, value = line.lstrip("> \t").partition(":")
        for key, known in _LINES.items():
            if label.strip() == known:
                found[key] = value.strip()
    digest = "".join(found.get("digest", "").split()).casefold()
    try:
        if not _DIGEST.fullmatch(digest):
            raise ValueError("no digest")
        numbers = (int(found["entry_id"]), digest, int(found["entries"]))
        at = datetime.fromisoformat(found["at"])
        return Checkpoint(found["name"], found["identifier"], at, found["who"], *numbers)
    except (KeyError, ValueError) as error:
        remedy = phrase(
            "Give all lines of it, from 'Register:' to 'Digest:' with its 64 figures and letters."
        )
        raise EntryFault("That is not a checkpoint", f"'{text[:60].strip()}'.", remedy) from error


def known_head_of(register: Register, checkpoint: Checkpoint) -> KnownHead:
    """What `verify` takes as known of a checkpoint.

    Raises:
        EntryFault: the checkpoint is of another register.
    """
    with register.database.reading() as session:
        own = identity.identifier(session)
    if checkpoint.identifier != own:
        detail = phrase(
            "It is of '{name}' ({identifier}), this register is {own}.",
            name=checkpoint.name,
            identifier=checkpoint.identifier,
            own=own,
        )
        raise EntryFault("The checkpoint is of another register", detail, "Open that one, or give another.")
    return KnownHead(checkpoint.entry_id, checkpoint.digest, f"the checkpoint of {checkpoint.at:%Y-%m-%d}")


def last_seen(register: Register, kept: Path) -> KnownHead | None:
    """The newest entry of this register that was seen on this machine.

    Args:
        kept: the file in the person's profile.

    Returns:
        None where it was never seen here, or the file can't be read.
    """
    with register.database.reading() as session:
        own = identity.identifier(session)
    found = _read(kept).get(own)
    try:
        return None if found is None else KnownHead(int(found[0]), str(found[1]), "this machine")
    except (TypeError, ValueError, LookupError):
        return None


def keep_seen(register: Register, kept: Path, verification: Verification) -> None:
    """Keep the newest entry as seen, where it fits; what was seen before a misfit stays as it is.

    Args:
        kept: the file in the person's profile; a folder that can't be written leaves it unkept.
    """
    if not verification.fits or not verification.head.digest:
        return
    with register.database.reading() as session:
        own = identity.identifier(session)
    everything = _read(kept) | {own: [verification.head.entry_id, verification.head.digest]}
    part = kept.with_name(f"{kept.name}.part")
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(everything, indent=1, sort_keys=True), "utf-8")
        part.replace(kept)


def _read(kept: Path) -> dict[str, Any]:
    try:
        found = json.loads(kept.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}
