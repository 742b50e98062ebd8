"""What judging a visit came to: verdict, findings with what to do, and what was not tested."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from estate.domain.findings import Finding, Judgement, Outcome
from estate.window import words
from estate.window.marks import OF_VERDICT, Mark, of_finding
from estate.window.translating import said, tr
from estate.window.widgets.text import Chip, empty, label

_NOT_A_PASS = said("Not tested is not a pass: what was not measured is not judged.")


class FindingLine(QWidget):
    """One check: its mark and severity, what was found, what to do now, and where the limit comes from.

    Args:
        finding: the check.
        said: what the lines above said already; it is not said again.
    """

    def __init__(self, finding: Finding, said: set[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 6)
        column.setSpacing(3)
        first, rest = words.first_sentence(words.sentence(finding.words))
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(_chip(finding), 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(label(first, "strong", wraps=True), 1)
        column.addLayout(head)
        for text, kind in ((rest, ""), (finding.action, ""), (finding.source, "small")):
            if text and text not in said:
                column.addWidget(label(text, kind, wraps=True))
                said.add(text)
        self.setAccessibleName(f"{_chip_words(finding)}: {finding.words} {finding.action}".strip())


def _chip_words(finding: Finding) -> str:
    if finding.outcome is Outcome.NOT_MET and finding.severity is not None:
        return tr(finding.severity.words)
    return tr(finding.outcome.value)


def _chip(finding: Finding) -> Chip:
    return Chip(of_finding(finding.outcome, finding.severity), _chip_words(finding))


class FindingsList(QWidget):
    """The findings of one judgement, worst first, then what was not tested."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)

    def tell(self, judgement: Judgement | None) -> None:
        """Show another judgement; None says that there is none."""
        empty(self._column)
        if judgement is None:
            self._column.addWidget(
                label(tr("No visit is on record, so nothing is known of this valve."), wraps=True)
            )
            return
        said: set[str] = set()
        for finding in judgement.findings:
            self._column.addWidget(FindingLine(finding, said))
        if not judgement.findings:
            self._column.addWidget(label(_nothing_against(judgement), wraps=True))
        if judgement.not_tested:
            self._column.addWidget(_missing(judgement.not_tested))


def _nothing_against(judgement: Judgement) -> str:
    if any(each.required for each in judgement.not_tested):
        return tr("Nothing that was measured is outside its limits.")
    return tr("Everything required was measured and is within its limits.")


def _missing(missing: Sequence[Finding]) -> QWidget:
    """What was not tested: the required values named, the others in one line."""
    box = QFrame()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 4, 0, 0)
    column.setSpacing(3)
    required = [each for each in missing if each.required]
    others = [each for each in missing if not each.required]
    if required:
        head = QHBoxLayout()
        head.addWidget(Chip(Mark.HALF, tr("not tested")), 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(label(tr("Required, and not measured:"), "strong"), 1)
        column.addLayout(head)
        for each in required:
            column.addWidget(label(f"•  {words.sentence(each.words)}", wraps=True))
        column.addWidget(label(tr(_NOT_A_PASS), "small", wraps=True))
    if others:
        names = "; ".join(words.sentence(each.words).rstrip(".") for each in others)
        column.addWidget(
            label(tr("Also not tested (not required): {names}.", names=names), "small", wraps=True)
        )
    return box


class VerdictChip(Chip):
    """The verdict of a judgement."""

    def __init__(self, large: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(Mark.RING, tr("never tested"), large=large, parent=parent)

    def judge(self, judgement: Judgement | None) -> None:
        """Show the verdict of a judgement, or that there is none."""
        if judgement is None:
            self.tell(Mark.RING, tr("never tested"))
        else:
            self.tell(OF_VERDICT[judgement.verdict], tr(judgement.verdict.value))
