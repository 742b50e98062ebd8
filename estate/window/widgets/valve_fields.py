"""The fields of a valve body: what it is, what its maker says, and what was seen of it."""

from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from estate.domain.valves import DESIGNATIONS, EnType, ModelLimits, SchemeClass, Valve
from estate.window.translating import said, tr
from estate.window.widgets.choice import Choice
from estate.window.widgets.field_grid import FieldGrid, MeasureField
from estate.window.widgets.text import label

_EN: Final = {
    EnType.SINGLE_CONTROL: said("1, one control for temperature and flow"),
    EnType.DUAL_CONTROL: said("2, separate controls"),
    EnType.SINGLE_SEQUENTIAL: said("3, one control in sequence"),
    EnType.NO_FLOW_CONTROL: said("4, no control of flow"),
    EnType.PRE_SET: said("5, set beforehand"),
    EnType.OTHER: said("6, another"),
}
_MAKERS: Final = said("From the maker's instructions; leave empty what was not looked up")


class ValveFields(QWidget):
    """Takes a valve body.

    Attributes:
        edited: something else is typed or chosen.
    """

    edited = Signal()

    def __init__(self, body: Valve, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._body = body
        self.make, self.model, self.serial = (
            QLineEdit(body.make),
            QLineEdit(body.model),
            QLineEdit(body.serial),
        )
        unsaid = [(tr("not recorded"), None)]
        classes = [(tr("Type {each}", each=each.value), each) for each in SchemeClass]
        self.scheme_class = Choice(tr("Scheme class"), [*unsaid, *classes], body.scheme_class)
        types = [(tr(_EN[each]), each) for each in EnType]
        self.en_type = Choice(tr("Type to EN 1111"), [*unsaid, *types], body.en_type)
        self.designations = QLineEdit(" ".join(body.designations))
        self.designations.setPlaceholderText(tr("such as HP-W LP-W"))
        self.size_mm = MeasureField(tr("Nominal size"), "mm", 150)
        self.set_c = MeasureField(tr("To be set to"), "°C", 60)
        self.differential = MeasureField(tr("Least difference hot to mixed"), "K", 60)
        self.ratio = MeasureField(tr("Largest ratio of pressures"), ": 1", 50)
        answers = [*unsaid, (tr("yes"), True), (tr("no"), False)]
        self.check_valves = Choice(tr("Check valves"), answers, body.check_valves)
        self.strainers = Choice(tr("Strainers"), answers, body.strainers)
        self.isolating_valves = Choice(tr("Isolating valves"), answers, body.isolating_valves)
        for field, value in (
            (self.size_mm, body.size_mm),
            (self.set_c, body.set_c),
            (self.differential, body.limits.min_differential_k),
            (self.ratio, body.limits.max_pressure_ratio),
        ):
            field.put(value)
        self._lay_out()

    def _lay_out(self) -> None:
        first, makers, seen = FieldGrid(3), FieldGrid(3), FieldGrid(3)
        for name, field in (
            (tr("Make"), self.make),
            (tr("Model"), self.model),
            (tr("Serial number"), self.serial),
            (tr("Scheme class"), self.scheme_class),
            (tr("Type to EN 1111"), self.en_type),
            (tr("Designations, as on the body"), self.designations),
        ):
            first.add(name, field)
        first.add(tr("Nominal size"), self.size_mm)
        first.add(tr("To be set to"), self.set_c)
        makers.add(tr("Least difference hot to mixed"), self.differential)
        makers.add(tr("Largest ratio of pressures"), self.ratio)
        seen.add(tr("Check valves"), self.check_valves)
        seen.add(tr("Strainers"), self.strainers)
        seen.add(tr("Isolating valves"), self.isolating_valves)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(first)
        column.addWidget(seen)
        column.addWidget(label(tr(_MAKERS), "small", wraps=True))
        column.addWidget(makers)
        for each in self.findChildren(QLineEdit):
            each.textChanged.connect(lambda text: self.edited.emit())
        for choice in self.findChildren(Choice):
            choice.currentIndexChanged.connect(lambda index: self.edited.emit())

    def wrong(self) -> str:
        """What is wrong with what is typed, in words; empty where nothing is."""
        unknown = [each for each in self._codes() if each not in DESIGNATIONS]
        if unknown:
            known = ", ".join(DESIGNATIONS)
            told = {"unknown": ", ".join(unknown), "known": known}
            return tr("Designations: {unknown} is none. There are {known}.", **told)
        measures = (self.size_mm, self.set_c, self.differential, self.ratio)
        return next((each.wrong for each in measures if each.wrong), "")

    def named(self) -> bool:
        """Whether make, model and serial number are given."""
        return all(each.text().strip() for each in (self.make, self.model, self.serial))

    def _codes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self.designations.text().upper().replace(",", " ").split()))

    def body(self) -> Valve:
        """The body as the fields say it."""
        return Valve(
            id=self._body.id,
            make=self.make.text().strip(),
            model=self.model.text().strip(),
            serial=self.serial.text().strip(),
            scheme_class=self.scheme_class.value(),
            en_type=self.en_type.value(),
            designations=self._codes(),
            size_mm=self.size_mm.value(),
            set_c=self.set_c.value(),
            check_valves=self.check_valves.value(),
            strainers=self.strainers.value(),
            isolating_valves=self.isolating_valves.value(),
            limits=ModelLimits(self.differential.value(), self.ratio.value()),
        )


def fields_of(body: Valve) -> dict[str, Any]:
    """Every field that can be changed, by its name in a `ValveChange`."""
    return {
        "make": body.make,
        "model": body.model,
        "serial": body.serial,
        "scheme_class": body.scheme_class,
        "en_type": body.en_type,
        "designations": body.designations,
        "size_mm": body.size_mm,
        "set_c": body.set_c,
        "check_valves": body.check_valves,
        "strainers": body.strainers,
        "isolating_valves": body.isolating_valves,
        "min_differential_k": body.limits.min_differential_k,
        "max_pressure_ratio": body.limits.max_pressure_ratio,
    }
