"""The sheets brought in: what was taken, what was asked, and a way to finish or undo each."""

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QPushButton, QSplitter, QVBoxLayout, QWidget

from estate.domain.questions import Question
from estate.domain.register import Batch
from estate.window import words
from estate.window.desk import BatchPage
from estate.window.models.answering import Answering
from estate.window.models.batch_rows import batches_model, moment_words
from estate.window.models.sheet_rows import answer_words, questions_model
from estate.window.translating import said, tr
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_FIRST_RESTING = 4
_NOTHING = said(
    "Nothing has been brought in yet. Choose “Bring in a sheet” above, or drop a sheet onto this window."
)


class BatchesView(QWidget):
    """Lists batches, the newest first, and shows one.

    Attributes:
        finish_asked, undo_asked, file_asked, sign_asked: the batch meant.
    """

    finish_asked = Signal(object)
    undo_asked = Signal(object)
    file_asked = Signal(object)
    sign_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = batches_model()
        self.listing: Listing[Batch] = Listing(
            self._model, tr("Sheets brought in, newest first"), known_as="batches"
        )
        self._asked = questions_model(Answering())
        self.questions: Listing[Question] = Listing(
            self._asked, tr("Rows of the batch that were not taken"), known_as="batch-questions"
        )
        self.said = label("", wraps=True)
        self.resting = label("", "caution", wraps=True)
        self._nothing = label(tr(_NOTHING), "large", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.finish = self._button(
            tr("Finish…"), tr("Answer the open questions and take more rows"), self.finish_asked
        )
        self.undo = self._button(tr("Undo…"), tr("Take the whole batch back, with a reason"), self.undo_asked)
        self.file = self._button(
            tr("Save the file…"), tr("The file as it came, byte for byte"), self.file_asked
        )
        tip = tr("Vouch for the sheet and all its rows with your key, or countersign")
        self.sign = self._button(tr("Sign…"), tip, self.sign_asked)
        self.listing.picked.connect(lambda key: self._settle())
        self._lay_out()
        self.tell(())

    def _button(self, said: str, tip: str, asked: SignalInstance) -> QPushButton:
        made = QPushButton(said)
        made.setToolTip(tip)
        made.clicked.connect(lambda: self._emit(asked))
        return made

    def _emit(self, asked: SignalInstance) -> None:
        batch = self._current()
        if batch is not None:
            asked.emit(batch)

    def _lay_out(self) -> None:
        self.bar = ListBar(self.listing)
        self.bar.trail(self.file, self.undo, self.sign, self.finish)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 6, 0, 0)
        for widget in (self.said, self.resting):
            below.addWidget(widget)
        below.addWidget(self.questions, 1)
        below.addStretch()
        self._split = QSplitter(Qt.Orientation.Vertical)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.listing)
        self._split.addWidget(lower)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(tr("Sheets brought in"), "title"))
        column.addWidget(self.bar)
        column.addWidget(self._nothing, 1)
        column.addWidget(self._split, 1)

    def tell(self, batches: tuple[Batch, ...]) -> None:
        """Show what was brought in; the batch chosen before stays chosen."""
        kept = self.chosen
        self._model.fill(reversed(batches))
        self._nothing.setVisible(not batches)
        self._split.setVisible(bool(batches))
        if batches and (kept is None or not self.listing.choose(kept)):
            self.listing.selectRow(0)
        self._settle()

    @property
    def chosen(self) -> int | None:
        """The id of the chosen batch."""
        return self.listing.current_key()

    def _current(self) -> Batch | None:
        return next((each for each in self._model.rows if each.id == self.chosen), None)

    def _settle(self) -> None:
        batch = self._current()
        counts = batch is not None and batch.undone is None
        self.finish.setEnabled(bool(counts and batch and batch.questioned))
        self.undo.setEnabled(counts)
        self.file.setEnabled(batch is not None)
        self.sign.setEnabled(batch is not None)
        if batch is None:
            self.said.setText("")
            self.resting.setText("")
            self._asked.fill(())

    def show_page(self, page: BatchPage) -> None:
        """Show one batch; nothing happens where another has been chosen meanwhile."""
        if page.batch.id != self.chosen:
            return
        batch = page.batch
        read = "; ".join(part for part in (batch.layout, batch.forms, batch.date_order) if part)
        answered = [f"{each.code.replace('-', ' ')}: {answer_words(each)}" for each in page.answers]
        lines = [
            tr("{moment} SHA-256 {digest}", moment=moment_words(batch), digest=words.in_eights(batch.digest)),
            tr("Signing: {signing}.", signing=page.signing.words),
            tr("Read as: {read}.", read=read) if read else "",
            tr("Answered: {answered}.", answered=words.listed(answered)) if answered else "",
            tr(
                "Finished by batch {followed_by}.",
                followed_by=words.listed([str(each) for each in page.followed_by]),
            )
            if page.followed_by
            else "",
        ]
        self.said.setText("\n".join(line for line in lines if line))
        resting = list(page.rests_on_it)
        self.resting.setVisible(bool(resting))
        self.resting.setText(
            tr(
                "Can't be undone while these rest on it: {resting}.",
                resting=words.listed(resting, _FIRST_RESTING),
            )
            if resting
            else ""
        )
        self.undo.setEnabled(batch.undone is None and not resting)
        self._asked.fill(page.questions)
        self.questions.setVisible(bool(page.questions))
