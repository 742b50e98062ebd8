"""Sheets, batches and layouts as JSON values."""

from typing import Any

from estate.cli.signing_shapes import signing_shape
from estate.domain.layouts import Layout
from estate.domain.questions import Answer, Question
from estate.domain.register import Batch
from estate.operations.bring_in import Brought, Proposal
from estate.operations.browse_batches import BatchPage


def question_shape(question: Question) -> dict[str, Any]:
    """One question about a sheet."""
    return {
        "sheet": question.sheet,
        "row": question.row,
        "cell": question.cell,
        "code": question.code,
        "ref": question.ref,
        "found": question.found,
        "remedy": question.remedy,
        "choices": [each.value for each in question.choices],
        "suggested": list(question.suggested),
    }


def answer_shape(answer: Answer) -> dict[str, Any]:
    """One answer."""
    return {
        "code": answer.code,
        "choice": answer.choice.value,
        "sheet": answer.sheet,
        "row": answer.row,
        "cell": answer.cell,
        "value": answer.value,
    }


def bring_in_shape(proposal: Proposal, brought: Brought | None) -> dict[str, Any]:
    """What ``bring-in`` did, or with ``--check-only`` would do (then ``batch`` is null)."""
    reading = proposal.reading
    return {
        "file": reading.file,
        "kind": reading.kind.value,
        "read": reading.read,
        "accepted": proposal.accepted,
        "already_there": proposal.already_there,
        "questioned": [question_shape(each) for each in proposal.questions],
        "batch": brought.batch_id if brought else None,
        "follows": proposal.follows,
        "mapping": [{"sheet": s, "heading": h, "field": f} for s, h, f in reading.mapping],
        "layout": reading.layout or None,
        "forms": [each.value for each in reading.forms],
        "unit": [{"sheet": s, "field": f, "unit": u, "known_by": how} for s, f, u, how in reading.units],
        "date_order": reading.date_order,
        "blank": reading.blank,
        "matched_by": [
            {
                "sheet": each.sheet,
                "row": each.row,
                "ref": each.ref,
                "by": each.by,
                "confidence": round(each.confidence, 3),
            }
            for each in proposal.matched
        ],
        "attempted": [
            {"ref": each.ref, "on": each.row.on.isoformat(), "why": each.row.why}
            for each in proposal.attempts
        ],
        "changes": [
            {
                "ref": each.ref,
                "field": each.field,
                "before": each.before,
                "after": each.after,
                "sheet": each.sheet,
                "row": each.row_number,
            }
            for each in proposal.changes
        ],
        "notes": [question_shape(each) for each in proposal.notes],
    }


def batch_shape(batch: Batch) -> dict[str, Any]:
    """One file that was brought in."""
    undone = batch.undone
    return {
        "batch": batch.id,
        "kind": batch.kind.value,
        "file": batch.file,
        "sha256": batch.digest,
        "read": batch.read,
        "accepted": batch.accepted,
        "already_there": batch.already_there,
        "questioned": batch.questioned,
        "who": batch.who,
        "at": batch.at.isoformat(),
        "layout": batch.layout or None,
        "forms": batch.forms,
        "date_order": batch.date_order,
        "follows": batch.follows,
        "undone": None
        if undone is None
        else {"who": undone.who, "at": undone.at.isoformat(), "why": undone.why},
    }


def batch_page_shape(page: BatchPage) -> dict[str, Any]:
    """One batch with its questions, answers, what it wrote and what rests on it."""
    return {
        **batch_shape(page.batch),
        "questions": [question_shape(each) for each in page.questions],
        "answers": [answer_shape(each) for each in page.answers],
        "written": list(page.written),
        "followed_by": list(page.followed_by),
        "rests_on_it": list(page.rests_on_it),
        "signed": signing_shape(page.signing),
    }


def layout_shape(layout: Layout) -> dict[str, Any]:
    """One remembered layout."""
    return {
        "name": layout.name,
        "sender": layout.sender,
        "kind": layout.kind.value,
        "form": layout.form.value,
        "date_order": layout.date_order.value if layout.date_order else None,
        "columns": [
            {"heading": each.heading, "field": each.field or None, "unit": each.unit or None}
            for each in layout.columns
        ],
    }
