"""Documents over the real operations."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from estate.domain.changes import ChangeSet
from estate.domain.documents import Document, Owner
from estate.operations import keep_documents
from estate.operations.register import Register


class RegisterDocuments:
    """Runs the operations about documents on one open register.

    Args:
        register: the open register.
        now: tells the moment, UTC.
    """

    def __init__(self, register: Register, now: Callable[[], datetime]) -> None:
        self._register = register
        self._now = now

    def of(self, owners: Sequence[Owner]) -> tuple[Document, ...]:
        """Those of these owners; void ones too."""
        return keep_documents.documents(self._register, owners)

    def add(self, owner: Owner, path: Path, remark: str, *, who: str, bound_mb: int) -> ChangeSet:
        """Keep a file; its kind is found by its content."""
        return keep_documents.add_document(
            self._register, owner, path, remark=remark, who=who, at=self._now(), bound_mb=bound_mb
        ).changes

    def void(self, document_id: int, why: str, who: str) -> ChangeSet:
        """Say of a document, with a reason, that it counts no more."""
        return keep_documents.void_document(self._register, document_id, why=why, who=who, at=self._now())

    def content(self, document_id: int) -> bytes:
        """The bytes, proved by their digest."""
        return keep_documents.content(self._register, document_id)

    def take_out(self, document_id: int, to: Path) -> Path:
        """Write it to a file that is not there yet."""
        return keep_documents.take_out(self._register, document_id, to)

    def copy_to_open(self, document_id: int) -> Path:
        """A read-only copy in a private folder."""
        return keep_documents.copy_to_open(self._register, document_id)

    def clear_away(self, copy: Path) -> bool:
        """Take such a copy away again."""
        return keep_documents.clear_away(copy)
