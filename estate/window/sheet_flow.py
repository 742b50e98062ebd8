"""How sheets run through the window: brought in, finished, undone, signed, kept files saved, round sheets."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.register import Batch
from estate.domain.roles import Deed
from estate.window.preferences import Preferences
from estate.window.sheet_doings import SheetDoings
from estate.window.showing import Showing
from estate.window.signing_doings import SigningDoings


class SheetFlow:
    """Joins the pages that ask for something about sheets to what is done.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        sheets, signing: what is done.
        preferences: how many weeks a round sheet looks ahead.
        may: whether the account may do something; says why not.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        sheets: SheetDoings,
        signing: SigningDoings,
        preferences: Preferences,
        may: Callable[[Deed], bool],
    ) -> None:
        self._window, self._showing = window, showing
        self._sheets, self._signing = sheets, signing
        self._preferences, self._may = preferences, may
        batches = showing.pages.batches
        showing.pages.start.bring_in_asked.connect(self._on_bring_in)
        batches.finish_asked.connect(self._on_finish)
        batches.undo_asked.connect(self._on_undo)
        batches.sign_asked.connect(self._on_sign)
        batches.file_asked.connect(self.save_file)

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {
            "bring-in": self._on_bring_in,
            "batches": self._showing.show_batches,
            "round-sheet": self._on_round_sheet,
        }

    def writing_buttons(self) -> tuple[QWidget, ...]:
        """Buttons that write."""
        batches = self._showing.pages.batches
        return (self._showing.pages.start.bring_in, batches.finish, batches.undo, batches.sign)

    def _on_bring_in(self) -> None:
        self.bring_in(None)

    def bring_in(self, sheet: Path | None) -> None:
        """Bring in a sheet; without one the person chooses it."""
        if self._showing.desk is not None and self._may(Deed.RECORD):
            self._sheets.bring_in(self._showing.desk, sheet, self._window)

    def _on_finish(self, batch: Batch) -> None:
        if self._showing.desk is not None:
            self._sheets.finish_batch(self._showing.desk, batch, self._window)

    def _on_undo(self, batch: Batch) -> None:
        if self._showing.desk is not None:
            self._sheets.undo_batch(self._showing.desk, batch, self._window)

    def _on_sign(self, batch: Batch) -> None:
        if self._showing.desk is not None:
            self._signing.sign_batch(self._showing.desk, batch, self._window)

    def save_file(self, batch: Batch) -> None:
        """Save the file of a batch as it came."""
        if self._showing.desk is not None:
            self._sheets.save_batch_file(self._showing.desk, batch, self._window)

    def _on_round_sheet(self) -> None:
        if self._showing.desk is not None:
            weeks = self._preferences.settings.due_weeks
            self._sheets.write_round_sheet(self._showing.desk, weeks, self._window)
