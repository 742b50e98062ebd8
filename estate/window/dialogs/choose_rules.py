"""Choose the rule set of the estate, a building or an outlet, seeing first how sure it is."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QWidget

from estate.window.dialogs.shell import Shell
from estate.window.models.rule_set_rows import Choosable, RuleSetsModel
from estate.window.translating import said, tr
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label


class ChooseRulesDialog(Shell):
    """Shows every rule set with the cautions that come with it.

    Args:
        sets: to choose from.
        places: words and place, such as ``("Main Block", "building:3")``; the first is the estate.

    Attributes:
        given: (place, id of the rule set).
    """

    given = Signal(str, str)

    def __init__(
        self, sets: Sequence[Choosable], places: Sequence[tuple[str, str]], parent: QWidget | None = None
    ) -> None:
        super().__init__(tr("Choose the rule set"), parent)
        self.setMinimumSize(1200, 660)
        self.where = QComboBox()
        self.where.setAccessibleName(tr("For which place"))
        for named, place in places:
            self.where.addItem(named, place)
        model = RuleSetsModel()
        self.listing: Listing[Choosable] = Listing(model, tr("Rule sets"))
        self.said = label("", wraps=True)
        self.caution = label(tr(_NONE_CHOSEN), "caution", wraps=True)
        self.body.addWidget(label(tr("For which place"), "heading"))
        self.body.addWidget(self.where)
        self.body.addWidget(self.listing, 1)
        self.body.addWidget(self.said)
        self.body.addWidget(self.caution)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Use this rule set"), self._on_act, main=True)
        self.act.setEnabled(False)
        self.listing.picked.connect(self._on_picked)
        model.fill(sets)

    def _chosen(self) -> Choosable | None:
        index = self.listing.currentIndex()
        return self.listing.ordered.row_at(index) if index.isValid() else None

    def _on_picked(self, key: int | None) -> None:
        chosen = self._chosen()
        self.act.setEnabled(chosen is not None)
        if chosen is not None:
            self.said.setText(
                tr(
                    "{id}, edition {edition}. {scope}",
                    id=chosen.rules.id,
                    edition=chosen.rules.edition,
                    scope=chosen.rules.scope,
                )
            )
            self.caution.setText(f"{chosen.sure.caution} {tr(_JUDGED_AGAIN)}")

    def _on_act(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            self.given.emit(str(self.where.currentData()), chosen.rules.id)


_JUDGED_AGAIN = said(
    "The last visits are judged again; choosing the former rule set brings its judgements back."
)
_NONE_CHOSEN = said(
    "Local codes and the authority having jurisdiction, the maker's instructions and the site's own risk "
    "assessment come before every rule set. Those responsible for water safety decide which one is used."
)
