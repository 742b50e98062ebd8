"""Water caught in a vessel with a supply isolated: volume and time become the flow."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from estate.domain.collecting import Collected, Reading, time_key, volume_key
from estate.domain.steps import Seen, Steps
from estate.window.models.field_words import SUPPLIES
from estate.window.translating import tr
from estate.window.widgets.entry import NumberField
from estate.window.widgets.text import label

_READ = Reading()


class CaughtField(QWidget):
    """Takes millilitres and seconds.

    Args:
        supply: ``cold`` or ``hot``: the one isolated.

    Attributes:
        edited: the person changed something.
        flowed: volume and time give a flow, ml/min.
    """

    edited = Signal()
    flowed = Signal(float)

    def __init__(self, supply: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._supply = supply
        isolated = tr(SUPPLIES[supply])
        self.volume_ml = NumberField(tr("{supply} isolated: caught, ml", supply=isolated))
        self.seconds = NumberField(tr("{supply} isolated: caught in, s", supply=isolated))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for widget in (self.volume_ml, label(tr("ml in"), "muted"), self.seconds, label("s", "muted")):
            row.addWidget(widget)
        for field in (self.volume_ml, self.seconds):
            field.edited.connect(self._on_edited)

    def put(self, steps: Steps) -> None:
        """Show what was caught."""
        self.volume_ml.put(steps.number(volume_key(self._supply)))
        self.seconds.put(steps.number(time_key(self._supply)))

    def seen(self) -> tuple[Seen, ...]:
        """Volume and time, where both are there."""
        caught = self._caught()
        if caught is None:
            return ()
        return (
            Seen(volume_key(self._supply), None, caught.volume_ml, "ml"),
            Seen(time_key(self._supply), None, caught.seconds, "s"),
        )

    @property
    def readable(self) -> bool:
        """Whether both are numbers, or both blank."""
        typed = [bool(each.text().strip()) for each in (self.volume_ml, self.seconds)]
        return not any(typed) or self._caught() is not None

    def _caught(self) -> Collected | None:
        volume, seconds = self.volume_ml.value(), self.seconds.value()
        if volume is None or not seconds or volume < 0 or seconds < 0:
            return None
        return _READ.collected(volume, seconds)

    def _on_edited(self) -> None:
        caught = self._caught()
        if caught is not None:
            self.setToolTip(
                tr(
                    "{flow_ml_min:.0f} ml/min, standard uncertainty {u_flow_ml_min:.0f} ml/min",
                    flow_ml_min=caught.flow_ml_min,
                    u_flow_ml_min=caught.u_flow_ml_min,
                )
            )
            self.flowed.emit(round(caught.flow_ml_min, 1))
        self.edited.emit()
