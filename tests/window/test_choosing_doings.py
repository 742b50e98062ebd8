"""What is done when suitability or causes are asked for and instruments are added, over a real register."""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.changes import ChangeSet
from estate.domain.instruments import Calibration
from estate.domain.suitability.conditions import Held
from estate.domain.suitability.given import Given
from estate.errors import EntryFault, KnownFault
from estate.operations import browse, keep_instruments
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.settings import Settings
from estate.window.choosing import Choosing
from estate.window.choosing_doings import ChoosingDoings
from estate.window.dialogs.instruments import AddInstrumentDialog, CalibrationDialog
from estate.window.dialogs.suitability import SuitabilityDialog
from estate.window.notices import Notices
from estate.window.pictures import settle
from estate.window.preferences import Preferences
from estate.window.register_choosing import RegisterChoosing
from estate.window.tasks import Straight, Tasks
from estate.window.widgets.diagnosis_panel import DiagnosisPanel
from tests.operations.conftest import ASSETS, VISITS, WHO, bring
from tests.window.builders import NOW, TODAY

BASIN, BATH, BARE = "MM/G/G01/WHB1", "MM/1/101/BTH1", "WE/G/G01/WHB1"


@dataclass
class Bench:
    """The doings over a register, and what was told meanwhile."""

    register: Register
    choosing: Choosing
    doings: ChoosingDoings
    parent: QWidget
    told: list[ChangeSet | str | KnownFault] = field(default_factory=list)

    def outlet_id(self, reference: str) -> int:
        return browse.find_outlet(self.register, reference).id


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register with four valves and a few visits."""
    folder = tmp_path_factory.mktemp("choosing-doings")
    register = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="mx-5")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS, "visits.csv")
    register.close()
    return folder / "register.db"


@pytest.fixture
def bench(kept: Path, tmp_path: Path, qtbot: QtBot) -> Iterator[Bench]:
    copy = tmp_path / "register.db"
    shutil.copyfile(kept, copy)
    register = open_register(str(copy))
    parent, notices = QWidget(), Notices()
    qtbot.addWidget(parent)
    preferences = Preferences(Settings(who=WHO), lambda settings: None, "account")
    with Straight() as executor:
        doings = ChoosingDoings(Tasks(executor, notices, parent), notices, preferences)
        made = Bench(register, RegisterChoosing(register, lambda: TODAY, lambda: NOW), doings, parent)
        for signal in (notices.changed, notices.said, notices.fault_met):
            signal.connect(made.told.append)
        yield made
    register.close()


def test_that_causes_are_weighed_for_the_panel(bench: Bench) -> None:
    panel = DiagnosisPanel(bench.parent)
    panel.asked.connect(
        lambda outlet_id, hardness: bench.doings.diagnose(bench.choosing, outlet_id, hardness, panel)
    )
    bench.parent.show()
    panel.turn_to(bench.outlet_id(BATH))
    QTest.keyClicks(panel.hardness, "280")
    settle()
    said = [each.text() for each in panel.findChildren(QLabel)]
    assert "Make B B-15 B-3; visit of 24 Feb 2026" in said
    assert "The water is hard, 280 mg/l CaCO3." in said
    panel.turn_to(bench.outlet_id(BARE))
    settle()
    assert panel.about_visit.text() == "There is nothing to diagnose"
    assert bench.told == []


def opened(bench: Bench, reference: str | None) -> SuitabilityDialog:
    outlet = None if reference is None else browse.find_outlet(bench.register, reference)
    bench.doings.suitability(bench.choosing, outlet, bench.parent)
    settle()
    (dialog,) = bench.parent.findChildren(SuitabilityDialog)
    return dialog


def said(dialog: SuitabilityDialog) -> str:
    return "\n".join(each.text() for each in dialog.panel.findChildren(QLabel))


def test_that_an_outlet_is_checked_with_what_is_known_and_again_as_it_is_typed(bench: Bench) -> None:
    dialog = opened(bench, BASIN)
    assert "23 Feb 2026" in dialog.form.taken_from.text()
    assert "Hot static pressure\nnot known\n≤ 10 bar" in said(dialog)
    QTest.keyClicks(dialog.form.numbers["hot.static_bar"], "12")
    settle()
    assert "Hot static pressure\n12 bar\n≤ 10 bar\n-2" in said(dialog)
    QTest.keyClicks(dialog.form.numbers["hot.static_bar"], "00")
    settle()
    assert said(dialog).startswith("A figure of the survey can't be true: Hot static pressure 1200 bar.")
    assert bench.told == []


def test_that_figures_alone_are_checked_by_the_estate_s_rules(bench: Bench) -> None:
    dialog = opened(bench, None)
    dialog.form.use.setCurrentIndex(1)
    dialog.form.users.setCurrentIndex(3)
    settle()
    assert "the class its users need, for want of a valve in mind; rules uk-healthcare" in said(dialog)


def test_that_the_year_ahead_is_told_of_the_register(bench: Bench) -> None:
    assert bench.choosing.forecast().estate.in_place == 4
    alone = bench.choosing.check(bench.outlet_id(BASIN), Given(alone=True)).suitability
    assert alone.survey.hot.temperature_c is None
    assert alone.of(Held.UNTOLD)


def test_that_an_instrument_and_a_calibration_are_added_and_announced(bench: Bench) -> None:
    bench.doings.add_instrument(bench.choosing, TODAY, bench.parent)
    settle()
    (adding,) = bench.parent.findChildren(AddInstrumentDialog)
    QTest.keyClicks(adding.reference, "T-77")
    QTest.keyClicks(adding.uncertainty, "0.2")
    QTest.keyClicks(adding.certificate, "C-1")
    adding.act.click()
    settle()
    assert "T-77 was added." in bench.told
    (made,) = [each for each in bench.choosing.instruments() if each.reference == "T-77"]
    first = Calibration(TODAY, TODAY + timedelta(days=365), "C-1")
    assert (made.standard_uncertainty_k, made.calibrations) == (0.2, (first,))
    bench.doings.add_calibration(bench.choosing, TODAY, made, bench.parent)
    (further,) = bench.parent.findChildren(CalibrationDialog)
    QTest.keyClicks(further.certificate, "C-2")
    further.act.click()
    settle()
    assert "T-77: a calibration was added." in bench.told
    assert sum(isinstance(each, ChangeSet) for each in bench.told) == 2
    (made,) = [each for each in bench.choosing.instruments() if each.reference == "T-77"]
    assert {each.certificate for each in made.calibrations} == {"C-1", "C-2"}


def test_that_what_can_t_be_kept_leaves_the_dialog_open_with_what_was_typed(bench: Bench) -> None:
    bench.doings.add_instrument(bench.choosing, TODAY, bench.parent)
    settle()
    (adding,) = bench.parent.findChildren(AddInstrumentDialog)
    QTest.keyClicks(adding.reference, "T-78")
    QTest.keyClicks(adding.certificate, "C-3")
    keep_instruments.add_instrument(bench.register, "T-78", who=WHO, at=NOW)
    adding.act.click()
    settle()
    assert [type(each) for each in bench.told] == [EntryFault]
    assert adding.isVisible()
    assert (adding.reference.text(), adding.act.isEnabled()) == ("T-78", True)
