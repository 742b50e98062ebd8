"""Chooses where places are moved to, for those who would rather not drag them."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.window.dialogs.shell import Shell
from estate.window.models.place_choice import down_to, may_go, place_of, short_name, told
from estate.window.translating import tr
from estate.window.widgets.place_panel import PlacePanel
from estate.window.widgets.text import label


class MoveToDialog(Shell):
    """Shows the tree down to the storey that places can be moved to.

    Args:
        nodes: what is moved, of one storey.
        to: the storey to choose from.
        tree: the whole tree.

    Attributes:
        given: the place that was chosen. The dialog stays until they are moved.
    """

    given = Signal(object)

    def __init__(
        self, nodes: Sequence[PlaceNode], to: PlaceKind, tree: Sequence[PlaceNode], parent: QWidget | None
    ) -> None:
        super().__init__(tr("Move {what}", what=told(nodes)), parent)
        self._nodes, self._to = nodes, to
        self._real = {each.id: each for each in _of(tree, to)}
        self.setMinimumSize(520, 560)
        self.panel = PlacePanel(leaf=to, several=False)
        self.panel.found.hide()
        self.panel.part_from_edge(0)
        self.panel.search.setPlaceholderText(tr("Find a {storey}", storey=tr(to.value)))
        self.panel.search.setAccessibleName(tr("Find a {storey}", storey=tr(to.value)))
        self.panel.tree.setAccessibleName(tr("Where to"))
        self.said = label("", wraps=True)
        self.body.addWidget(label(tr("Where to? Choose a {storey}.", storey=tr(to.value)), "muted"))
        self.body.addWidget(self.panel, 1)
        self.body.addWidget(self.said)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Move"), self._on_act, main=True)
        self.panel.picked.connect(self._settle)
        self.panel.opened.connect(lambda node: self._on_act())
        self.panel.tell(down_to(tree, to))
        self.panel.search.setFocus()

    @property
    def chosen_words(self) -> str:
        """The place that is chosen, in words."""
        chosen = self._chosen()
        return "" if chosen is None else short_name(chosen)

    def _chosen(self) -> PlaceNode | None:
        current = self.panel.current
        return self._real.get(current.id) if current is not None and current.kind is self._to else None

    def _settle(self) -> None:
        chosen = self._chosen()
        fits = chosen is not None and may_go([place_of(each) for each in self._nodes], chosen)
        self.act.setEnabled(fits)
        if chosen is None:
            self.said.setText("")
        elif fits:
            self.said.setText(tr("{what} → {to}", what=told(self._nodes), to=short_name(chosen)))
        else:
            self.said.setText(tr("{what}: in {to} already", what=told(self._nodes), to=short_name(chosen)))

    def _on_act(self) -> None:
        chosen = self._chosen()
        if chosen is not None and self.act.isEnabled():
            self.given.emit(place_of(chosen))


def _of(nodes: Sequence[PlaceNode], storey: PlaceKind) -> list[PlaceNode]:
    found: list[PlaceNode] = []
    for node in nodes:
        found += [node] if node.kind is storey else _of(node.children, storey)
    return found
