"""Sheets, batches and layouts in lines for a person."""

from collections.abc import Mapping, Sequence

from estate.domain.layouts import Layout
from estate.domain.questions import CHOICE_WORDS, NEEDING_A_VALUE, Answer, Question
from estate.domain.register import Batch
from estate.domain.signatures import Signing
from estate.operations.bring_in import Brought, Proposal
from estate.operations.browse_batches import BatchPage
from estate.operations.undo_batch import Undone


def bring_in_words(proposal: Proposal, brought: Brought | None) -> list[str]:
    """What bringing in a sheet did or would do."""
    reading = proposal.reading
    done = f"batch {brought.batch_id}" if brought and brought.batch_id else "nothing written"
    head = (
        f"{reading.file}: {reading.read} rows of {reading.kind.value} read, {proposal.accepted} accepted, "
        f"{proposal.already_there} already there, {len(proposal.questions)} questioned ({done})."
    )
    changed = [
        f"  {each.ref}: {each.field} from {each.before!r} to {each.after!r}" for each in proposal.changes
    ]
    tried = [
        f"  {each.ref}: attempted on {each.row.on:%d %b %Y}: {each.row.why}" for each in proposal.attempts
    ]
    notes = [f"  worth knowing: {_question(each)}" for each in proposal.notes]
    return [
        head,
        *_how(proposal),
        *changed,
        *tried,
        *notes,
        *(line for each in proposal.questions for line in _asked(each)),
    ]


def _how(proposal: Proposal) -> list[str]:
    reading = proposal.reading
    parts = [each.value for each in dict.fromkeys(reading.forms)]
    if reading.layout:
        parts.append(f"layout “{reading.layout}”")
    if reading.date_order:
        parts.append(f"dates {reading.date_order}")
    parts += dict.fromkeys(f"{unit} known by {how}" for _, _, unit, how in reading.units)
    ways: dict[str, int] = {}
    for each in proposal.matched:
        ways[each.by] = ways.get(each.by, 0) + 1
    parts += [f"{number} matched by {way}" for way, number in ways.items()]
    if reading.blank:
        parts.append(f"{reading.blank} rows left blank")
    return [f"  Read as: {'; '.join(parts)}."] if parts else []


def _question(question: Question) -> str:
    where = question.cell or (f"row {question.row}" if question.row else "")
    return f"{question.sheet} {where}".rstrip() + f": {question.code}: {question.found!r}. {question.remedy}"


def _asked(question: Question) -> list[str]:
    choices = [
        f"{each.value}{'=…' if each in NEEDING_A_VALUE else ''} ({CHOICE_WORDS[each].lower()})"
        for each in question.choices
    ]
    lines = [f"  {_question(question)}"]
    if choices:
        lines.append(f"    answers: {', '.join(choices)}")
    if question.suggested:
        lines.append(f"    suggested: {', '.join(question.suggested)}")
    return lines


def batches_words(batches: Sequence[Batch], signed: Mapping[int, Signing]) -> list[str]:
    """The files brought in, a line each."""
    if not batches:
        return ["Nothing has been brought in yet."]
    return [f"{_batch(each)}; {signed[each.id].words}" for each in batches]


def _batch(batch: Batch) -> str:
    follows = f", finishing batch {batch.follows}" if batch.follows else ""
    undone = f"; undone by {batch.undone.who}: {batch.undone.why}" if batch.undone else ""
    return (
        f"{batch.id}: {batch.file}, {batch.kind.value}{follows}: {batch.accepted} of {batch.read} rows taken"
        f", {batch.questioned} questioned; {batch.who}, {batch.at:%d %b %Y %H:%M} UTC{undone}"
    )


def batch_page_words(page: BatchPage) -> list[str]:
    """One batch: how it was read, its answers and questions, and what rests on it."""
    batch = page.batch
    lines = [_batch(batch), f"  SHA-256 {batch.digest}", f"  Signing: {page.signing.words}"]
    if batch.forms or batch.layout or batch.date_order:
        read = "; ".join(part for part in (batch.layout, batch.forms, batch.date_order) if part)
        lines.append(f"  Read as: {read}.")
    lines += [f"  answered: {_answer(each)}" for each in page.answers]
    lines += [line for each in page.questions for line in _asked(each)]
    if page.followed_by:
        lines.append(f"  Finished by batch {', '.join(map(str, page.followed_by))}.")
    if page.rests_on_it:
        lines.append("  It can't be undone while these rest on it:")
        lines += [f"    {each}" for each in page.rests_on_it]
    return lines


def _answer(answer: Answer) -> str:
    where = f"{answer.sheet} {answer.cell or answer.row}" if answer.sheet else "all alike"
    return f"{answer.code}, {where}: {answer.choice.value} {answer.value}".rstrip()


def undone_words(number: int, undone: Undone) -> list[str]:
    """What undoing a batch did."""
    return [
        f"Batch {number} is undone: {undone.visits} visits and {undone.attempts} attempts are void, "
        f"{undone.places} outlets and valves taken out again or put back as they were. "
        "The file and what was in it stay on record."
    ]


def layouts_words(layouts: Sequence[Layout]) -> list[str]:
    """The layouts that are remembered, a line each."""
    if not layouts:
        return ["No layout is remembered yet."]
    return [
        f"{each.name}: {each.kind.value}, {each.form.value}, {len(each.columns)} columns"
        + (f", from {each.sender}" if each.sender else "")
        for each in layouts
    ]
