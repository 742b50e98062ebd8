"""How the page of an outlet leads on: to its places, its sheets and batches, its actions."""

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QPushButton, QWidget

from estate.domain.browsing import HistoryLine, PlaceKind, PlaceNode
from estate.domain.layouts import ShownSheet
from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.register import Batch
from estate.window.desk import Desk
from estate.window.dialogs.source_sheet import SourceSheetDialog
from estate.window.life_flow import LifeFlow
from estate.window.sheet_flow import SheetFlow
from estate.window.showing import Showing
from estate.window.tasks import Latest, Tasks
from estate.window.widgets.place_panel import PlacePanel


class OutletFlow:
    """Joins the page of an outlet, and that of a place, to what they lead to.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        panel: the tree.
        tasks: where the register is read.
        life: steps of actions.
        sheets: kept files.
        run: runs an action of the window by its id.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        panel: PlacePanel,
        tasks: Tasks,
        life: LifeFlow,
        sheets: SheetFlow,
        run: Callable[[str], None],
    ) -> None:
        self._window, self._showing, self._panel, self._tasks = window, showing, panel, tasks
        self._life, self._sheets = life, sheets
        self._latest = Latest(tasks)
        page = showing.pages.outlet
        page.place_asked.connect(self._on_place)
        page.changed.connect(run)
        page.told.connect(self._on_told)
        showing.pages.place.place_asked.connect(self._go)
        page.past.sheet_asked.connect(self.show_sheet)
        page.to_do.step_asked.connect(self._on_step)

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {"entry-sheet": self._on_sheet}

    def writing_buttons(self) -> tuple[QWidget, ...]:
        """Buttons that record something."""
        return self._showing.pages.outlet.to_do.writing

    def amending_buttons(self) -> tuple[QPushButton, ...]:
        """Buttons that change what an outlet or a valve is."""
        cards = self._showing.pages.outlet.cards
        return (cards.edit_outlet, cards.edit_valve, cards.fit_valve)

    def _on_told(self) -> None:
        """The actions follow once the page is shown."""
        desk, page = self._showing.desk, self._showing.pages.outlet.page
        if desk is not None and page is not None:
            outlet_id = page.outlet.id
            self._latest.run(lambda: desk.work.outlet_life(outlet_id), self._on_life)

    def _on_life(self, life: OutletLife) -> None:
        page = self._showing.pages.outlet
        if page.page is not None and page.page.outlet.id == life.outlet.id:
            page.to_do.tell(life)

    def _on_step(self, line: ActionLine, step: Step) -> None:
        self._life.step(line, step)

    def _on_place(self, kind: PlaceKind) -> None:
        page, reading = self._showing.outlet, self._showing.reading
        if page is None or reading is None:
            return
        found = next((each for each in above(reading.tree, page.outlet.id) if each.kind is kind), None)
        if found is not None:
            self._go(found)

    def _go(self, node: PlaceNode) -> None:
        if not self._panel.choose((node.kind, node.id)):
            self._showing.show_place(node)

    def _on_sheet(self) -> None:
        key = self._showing.pages.outlet.history.current_key()
        if key is not None:
            self.show_sheet(key)

    def show_sheet(self, visit_id: int) -> None:
        """Show the sheet that an entry came from, at its row."""
        desk, line = self._showing.desk, self._showing.pages.outlet.past.line(visit_id)
        if desk is None or line is None or line.visit.batch_id is None:
            return
        batch_id = line.visit.batch_id
        self._tasks.run(
            lambda: (desk.batch_page(batch_id).batch, desk.kept_sheets(batch_id)),
            lambda found: self._open_sheet(desk, line, *found),
        )

    def _open_sheet(
        self, desk: Desk, line: HistoryLine, batch: Batch, sheets: tuple[ShownSheet, ...]
    ) -> None:
        dialog = SourceSheetDialog(batch, line.visit.draft.source, sheets, self._window)
        dialog.file_asked.connect(lambda: self._sheets.save_file(batch))
        dialog.batch_asked.connect(lambda: self._showing.show_batch(batch.id))
        dialog.show_modal()


def above(tree: tuple[PlaceNode, ...], outlet_id: int) -> tuple[PlaceNode, ...]:
    """The places above an outlet, its site first; none where it is not in the tree."""
    for node in tree:
        if node.kind is PlaceKind.OUTLET:
            if node.id == outlet_id:
                return (node,)
        elif found := above(node.children, outlet_id):
            return (node, *found)
    return ()
