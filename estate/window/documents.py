"""What the window asks about documents and photographs; a port, as `desk` is."""

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from estate.domain.browsing import OutletPage, PlaceNode
from estate.domain.changes import ChangeSet
from estate.domain.documents import Document, Owner
from estate.window.translating import tr


class Documents(Protocol):
    """Everything about documents that the window can ask of one open register."""

    def of(self, owners: Sequence[Owner]) -> Sequence[Document]:
        """Those of these owners; void ones too."""

    def add(self, owner: Owner, path: Path, remark: str, *, who: str, bound_mb: int) -> ChangeSet:
        """Keep a file; its kind is found by its content."""

    def void(self, document_id: int, why: str, who: str) -> ChangeSet:
        """Say of a document, with a reason, that it counts no more."""

    def content(self, document_id: int) -> bytes:
        """The bytes, proved by their digest."""

    def take_out(self, document_id: int, to: Path) -> Path:
        """Write it to a file that is not there yet."""

    def copy_to_open(self, document_id: int) -> Path:
        """A read-only copy in a private folder."""

    def clear_away(self, copy: Path) -> bool:
        """Take such a copy away again."""


def owner_of_place(node: PlaceNode) -> Owner:
    """A site, building, level or room as what a document belongs to."""
    label = " ".join(node.label.split())
    return Owner(node.kind.value, node.id, tr("{kind} {label}", kind=tr(node.kind.value), label=label))


def owners_of(page: OutletPage) -> tuple[Owner, ...]:
    """What a document of an outlet's page may belong to: the outlet first, then its valves and visits."""
    outlet = Owner("outlet", page.outlet.id, tr("outlet {reference}", reference=page.outlet.reference))
    bodies = {valve.id: valve for _, valve in page.fittings} | (
        {page.valve.id: page.valve} if page.valve else {}
    )
    valves = [Owner("valve", each.id, tr("valve {each}", each=each.words)) for each in bodies.values()]
    return (outlet, *valves, *(Owner("visit", each.visit.id) for each in page.history))
