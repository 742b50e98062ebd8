"""What verifying came to: every place that does not fit, where, what and what it means."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from estate.domain.trust import Misfit, Verification
from estate.window.dialogs.shell import Shell
from estate.window.models.misfit_rows import heading_of, misfits_model, outcome_words
from estate.window.translating import tr
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label


class VerificationDialog(Shell):
    """Shows a verification.

    Attributes:
        listing: the places that do not fit.
        compare_asked: the person has a checkpoint to compare with.
    """

    compare_asked = Signal()

    def __init__(self, found: Verification, parent: QWidget | None = None) -> None:
        super().__init__(heading_of(found), parent)
        self.body.addWidget(label(outcome_words(found), wraps=True))
        self._model = misfits_model()
        self.listing: Listing[tuple[int, Misfit]] = Listing(self._model, tr("Places that do not fit"))
        self._whole = label("", wraps=True)
        self.compare = self.button(tr("Compare with a kept checkpoint…"), self._on_compare)
        close = self.button(tr("Close"), self.accept, main=True)
        if found.fits:
            self.setMinimumWidth(560)
            self.body.addStretch(1)
            close.setFocus()
            return
        self.resize(1060, 560)
        self.body.addWidget(self.listing, 1)
        self.body.addWidget(self._whole)
        self.listing.picked.connect(self._on_picked)
        self._model.fill(enumerate(found.misfits))
        self.listing.selectRow(0)

    def _on_compare(self) -> None:
        self.accept()
        self.compare_asked.emit()

    def _on_picked(self, key: int | None) -> None:
        misfit = next((each for number, each in self._model.rows if number == key), None)
        self._whole.setText(str(misfit) if misfit is not None else "")
