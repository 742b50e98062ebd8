"""What was brought in, with its proof: the file as it came, who, when, answers, and what came of it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath

from estate.domain.dates import day_words
from estate.domain.phrases import phrase
from estate.domain.questions import Answer, Question
from estate.domain.register import Batch, WrittenEntry
from estate.domain.signatures import UNSIGNED, Signing
from estate.domain.visits import Source
from estate.errors import ReportFault
from estate.operations.column_words import column_words
from estate.operations.register import Register
from estate.operations.resting import resting
from estate.store import attempts, places, taking_back, valves, visits
from estate.store import batches as store_batches
from estate.store.database import Session
from estate.store.signing import signings

_FILE_REMEDY = "Choose another folder, one that you may write in; the file is kept in the register."


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """Something that a batch wrote.

    Attributes:
        sheet, row: where in the file it came from; empty and 0 of an outlet's fields.
        ref: the outlet's reference; empty of a valve that was removed again.
        what: in words, such as ``visit of 3 Nov 2026``.
        void: whether it no longer counts.
    """

    sheet: str
    row: int
    ref: str
    what: str
    void: bool = False

    @property
    def words(self) -> str:
        """All of it in one line."""
        where = f"{self.sheet} row {self.row}: " if self.row else ""
        who = f"{self.ref}, " if self.ref else ""
        return f"{where}{who}{self.what}{' (void)' if self.void else ''}"


@dataclass(frozen=True, slots=True)
class BatchPage:
    """One batch with its proof.

    Attributes:
        rows: what it wrote, in the order in which it was written; rooms and fittings go without a line.
        followed_by: ids of the follow-up batches that took further rows of the file.
        rests_on_it: later work that would have to go first before the batch could be undone, in words.
        signing: who signed it, with all its rows.
    """

    batch: Batch
    questions: tuple[Question, ...]
    answers: tuple[Answer, ...]
    rows: tuple[WrittenLine, ...]
    followed_by: tuple[int, ...]
    rests_on_it: tuple[str, ...]
    signing: Signing = UNSIGNED

    @property
    def written(self) -> tuple[str, ...]:
        """What it wrote, a line each."""
        return tuple(each.words for each in self.rows)


def batches(register: Register) -> tuple[Batch, ...]:
    """Every batch, undone ones too, oldest first."""
    with register.database.reading() as session:
        return store_batches.batches(session)


def batch_page(register: Register, batch_id: int) -> BatchPage:
    """One batch with its proof.

    Raises:
        NotFoundFault: there is no such batch.
    """
    with register.database.reading() as session:
        batch = store_batches.batch(session, batch_id)
        followed = [each.id for each in store_batches.batches(session) if each.follows == batch_id]
        return BatchPage(
            batch,
            store_batches.questions(session, batch_id),
            store_batches.answers(session, batch_id),
            tuple(_lines(session, batch)),
            tuple(followed),
            resting(session, batch_id),
            signings(session, "batch", [batch_id])[batch_id],
        )


def _lines(session: Session, batch: Batch) -> Iterator[WrittenLine]:
    refs = {each.id: each.reference for each in places.outlets(session)}
    for visit in visits.visits_of_batch(session, batch.id):
        what = f"visit of {day_words(visit.on)}" + (", a correction" if visit.corrects else "")
        yield _line(visit.draft.source, refs[visit.draft.outlet_id], what, bool(visit.void_reason))
    for attempt in attempts.attempts(session, batch_id=batch.id):
        what = f"attempted visit of {day_words(attempt.on)}"
        yield _line(attempt.source, refs[attempt.outlet_id], what, bool(attempt.void_reason))
    entries = [each for each in store_batches.rows_of(session, batch.id) if each.noun in ("outlet", "valve")]
    if entries:
        named = {"outlet": _outlet_names(session, entries, refs), "valve": _valve_names(session)}
        for entry in entries:
            ref = named[entry.noun].get(entry.row_id, "")
            yield WrittenLine("", 0, ref, _what(entry), batch.undone is not None)


def _outlet_names(
    session: Session, entries: Sequence[WrittenEntry], refs: Mapping[int, str]
) -> dict[int, str]:
    """References of outlets, also of those that were removed when the batch was undone."""
    gone = {each.row_id for each in entries if each.noun == "outlet"} - refs.keys()
    told = taking_back.as_added(session, "outlet", gone)
    return {**refs, **{row_id: str(values["reference"]) for row_id, values in told.items()}}


def _valve_names(session: Session) -> dict[int, str]:
    """The outlet that each valve serves or served last."""
    served = {each.position_id: each.reference for each in reversed(places.outlets(session))}
    return {each.valve_id: served.get(each.position_id, "") for each in valves.fittings(session)}


def _line(source: Source | None, ref: str, what: str, void: bool) -> WrittenLine:
    sheet, row = ("", 0) if source is None else (source.sheet, source.row)
    return WrittenLine(sheet, row, ref, what, void)


def _what(entry: WrittenEntry) -> str:
    if entry.action == "added":
        return f"{entry.noun} added"
    pairs = zip(entry.before, entry.after, strict=True)
    return ", ".join(
        f"{column_words(name)} {_shown(before)} became {_shown(after)}"
        for (name, before), (_, after) in pairs
    )


def _shown(value: object) -> str:
    return "blank" if value in (None, "") else str(value)


def original(register: Register, batch_id: int) -> bytes:
    """The bytes of a batch's file as it came; of a follow-up, those of the batch it follows.

    Raises:
        NotFoundFault: there is no such batch.
    """
    with register.database.reading() as session:
        return store_batches.content(session, batch_id)


def save_original(register: Register, batch_id: int, to: Path) -> Path:
    """Write a batch's file as it came to a file that a person chose.

    Raises:
        NotFoundFault: there is no such batch.
        ReportFault: the file can't be written.
    """
    content = original(register, batch_id)
    try:
        to.write_bytes(content)
    except OSError as error:
        raise ReportFault("The file can't be written", f"{to}: {error.strerror}.", _FILE_REMEDY) from error
    return to


def write_original(register: Register, batch_id: int, folder: Path) -> Path:
    """Write a batch's file as it came, byte for byte and under its name.

    Args:
        register: the open register.
        batch_id: the batch.
        folder: made if it is missing.

    Returns:
        The file; one of that name with the same bytes is left as it is.

    Raises:
        NotFoundFault: there is no such batch.
        ReportFault: another file of that name is there, or the folder can't be written.
    """
    with register.database.reading() as session:
        name = store_batches.batch(session, batch_id).file
        content = store_batches.content(session, batch_id)
    # A name may come from another system; its folders, in either writing, are not ours to follow.
    path = folder / (PureWindowsPath(name).name or f"batch {batch_id}")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if path.exists() and path.read_bytes() == content:
            return path
        with path.open("xb") as file:
            file.write(content)
    except FileExistsError as error:
        title = phrase("There is another file of that name")
        raise ReportFault(title, f"{path}.", "Choose another folder; nothing was written.") from error
    except OSError as error:
        raise ReportFault("The file can't be written", f"{path}: {error.strerror}.", _FILE_REMEDY) from error
    return path
