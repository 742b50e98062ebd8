"""Random actions at the real window, seeded: no exception, no Qt warning, no growth.

.venv/bin/python -m tests.benchmarks.soak --actions 2000 --seed 1
"""

import argparse
import gc
import os
import sys
import tempfile
from collections.abc import Sequence
from contextlib import chdir
from dataclasses import dataclass
from pathlib import Path
from random import Random

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QMainWindow

from estate.app.composing import Surroundings, build
from estate.app.exhibits import round_for, sample_now
from estate.sample import SAMPLE_TODAY, build_sample
from estate.settings import Settings
from estate.window.pictures import settle
from estate.window.preferences import Preferences
from estate.window.tasks import Straight
from tests.soak import Soak, Trouble, Whims, close_dialogs


@dataclass(frozen=True)
class Grown:
    """What is alive and held after some actions.

    Attributes:
        widgets: how many Qt widgets there are.
        held_mb: memory of the process, MB.
    """

    actions: int
    widgets: int
    held_mb: float


def held_mb() -> float:
    """Memory that this process holds, MB (Linux)."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def measure(actions: int, first: QMainWindow) -> Grown:
    """Count with every dialog and further window closed, so that what is left over shows."""
    close_dialogs()
    for each in QApplication.topLevelWidgets():
        if isinstance(each, QMainWindow) and each is not first:
            each.close()
    settle()
    gc.collect()
    settle()
    return Grown(actions, len(QApplication.allWidgets()), held_mb())


def soak(actions: int, seed: int, register: Path, every: int) -> tuple[Trouble, list[Grown], Soak]:
    """Do random things at a window.

    Args:
        actions: how many.
        seed: which ones.
        register: an estate that may be spoiled; files are made beside it.
        every: after how many it is measured.
    """
    application = QApplication.instance() or QApplication(["estate"])
    folder, random, trouble = register.parent, Random(seed), Trouble()
    sheet = round_for(register, folder / "round.csv")
    (folder / "no-register.db").write_bytes(b"not a register")
    whims = Whims(random, folder, (sheet, register, folder / "no-register.db"))
    settings = Settings("light", "A. Officer", backup_on_closing=False, backup_before_batches=False)
    with Straight() as executor, trouble.watched():
        preferences = Preferences(settings, lambda kept: None, "account")
        places = (lambda told: register, folder / "seen.json")
        around = Surroundings(executor, lambda: SAMPLE_TODAY, sample_now, whims, preferences, *places)
        built = build(application, around)  # type: ignore[arg-type]  # instance() is typed as the core kind
        built.window.show()
        built.window.open(str(register))
        settle()
        doing, grown = Soak(random, trouble, built.window), []
        for number in range(1, actions + 1):
            doing.step()
            if number % every == 0:
                grown.append(measure(number, built.window))
        close_dialogs()
        built.window.trust.leave()
        built.window.close()
        built.window.deleteLater()
        settle()
    return trouble, grown, doing


def main(arguments: Sequence[str] | None = None) -> int:
    """Soak and tell; the exit status is 1 where anything went wrong."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--actions", type=int, default=2000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--every", type=int, default=250)
    given = asked.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder, chdir(folder):
        register = Path(folder) / "estate.db"
        build_sample(register, outlets=120)
        trouble, grown, doing = soak(given.actions, given.seed, register, given.every)
    for each in grown:
        sys.stdout.write(f"{each.actions:6} actions: {each.widgets:6} widgets, {each.held_mb:6.0f} MB\n")
    sys.stdout.write(f"{dict(doing.counts.most_common())}\n")
    for line in trouble.told:
        sys.stdout.write(f"TROUBLE {line}\n")
    return 1 if trouble.told else 0


if __name__ == "__main__":
    raise SystemExit(main())
