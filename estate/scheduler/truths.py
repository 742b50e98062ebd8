"""What truly happens to the valves of a simulated estate: the model's own truth, and truths that break it.

Every figure here is invented for comparison; none describes a real estate (PH-11: no field figures found).
"""

from dataclasses import dataclass, field

import numpy as np

from estate.scheduler.arrays import Flags, Floats
from estate.scheduler.states import DriftParameters

WEEKS_PER_YEAR = 52.1775


@dataclass(frozen=True, slots=True)
class Truth:
    """How true temperatures move and how they are read.

    Attributes:
        name: in words.
        drift: drift between visits, as the model has it; `s` is the error of a reading.
        jumps_a_year, jump_k: sudden shifts of a valve, and their standard deviation, K.
        spells_a_year, spell_weeks, spell_k_per_week: stretches in which scale adds to the drift, their mean
            length and what they add; a service ends one.
        slip_share, slips_k: share of readings written down wrongly, and by how much, K.
        supply_k, supply_weeks, supply_sites: common shifts of all valves of a site, of this standard
            deviation in K, that fade over this many weeks; valves feel them by a half to one and a half.
    """

    name: str
    drift: DriftParameters = field(default_factory=lambda: DriftParameters(0.015, 0.03, 0.10, 0.25))
    jumps_a_year: float = 0.0
    jump_k: float = 0.0
    spells_a_year: float = 0.0
    spell_weeks: float = 26.0
    spell_k_per_week: float = 0.0
    slip_share: float = 0.0
    slips_k: tuple[float, ...] = (-9.0, -2.7, 2.7, 9.0)
    supply_k: float = 0.0
    supply_weeks: float = 8.0
    supply_sites: int = 5


MODEL = Truth("as the model has it")
TRUTHS = (
    MODEL,
    Truth("a faster estate", DriftParameters(0.03, 0.05, 0.15, 0.35)),
    Truth("sudden jumps", jumps_a_year=0.25, jump_k=1.5),
    Truth("spells of scale", spells_a_year=0.25, spell_k_per_week=0.10),
    Truth("readings written down wrongly", slip_share=0.03),
    Truth("supplies that shift together", supply_k=0.5),
)


class World:
    """True temperatures of n valves, week by week; the same for every policy with the same seed.

    All random numbers of a week are drawn whether they are needed or not, so that what is done to one
    valve changes nothing for another.
    """

    def __init__(self, truth: Truth, valves: int, seed: int) -> None:
        self._truth = truth
        self._random = np.random.default_rng(seed)
        self._drift: Floats = self._random.normal(truth.drift.mu, truth.drift.omega, valves)
        self._feels = self._random.uniform(0.5, 1.5, valves)
        self._site = self._random.integers(truth.supply_sites, size=valves)
        self._supply = self._random.normal(0.0, truth.supply_k, truth.supply_sites)
        self._own = np.zeros(valves)
        self._spell: Flags = np.zeros(valves, np.bool_)

    @property
    def mixed(self) -> Floats:
        """True mixed temperatures (n,), °C."""
        return self._own + self._felt()

    def _felt(self) -> Floats:
        return np.asarray(self._feels * self._supply[self._site], np.float64)

    def pass_week(self) -> None:
        """Let a week pass."""
        truth, random, valves = self._truth, self._random, len(self._own)
        self._own = self._own + self._drift + truth.drift.sigma * random.standard_normal(valves)
        jumps = random.random(valves) < truth.jumps_a_year / WEEKS_PER_YEAR
        self._own += np.where(jumps, truth.jump_k * random.standard_normal(valves), 0.0)
        chance = random.random(valves)
        begins = ~self._spell & (chance < truth.spells_a_year / WEEKS_PER_YEAR)
        self._spell = (self._spell & (chance >= 1 / truth.spell_weeks)) | begins
        self._own += np.where(self._spell, truth.spell_k_per_week, 0.0)
        kept = np.exp(-1 / truth.supply_weeks)
        fresh = random.standard_normal(truth.supply_sites)
        self._supply = kept * self._supply + truth.supply_k * np.sqrt(1 - kept**2) * fresh

    def read(self) -> tuple[Floats, Floats]:
        """Read every valve: what the thermometer shows and what is written down, both (n,), °C."""
        truth, random, valves = self._truth, self._random, len(self._own)
        shown = np.round(self.mixed + truth.drift.s * random.standard_normal(valves), 1)
        slipped = random.random(valves) < truth.slip_share
        wrong = random.choice(np.array(truth.slips_k), valves)
        return shown, shown + np.where(slipped, wrong, 0.0)

    def set_to(self, chosen: Flags, set_c: float) -> None:
        """Turn the adjusters of some valves until the thermometer shows the set temperature."""
        error = self._truth.drift.s * self._random.standard_normal(len(self._own))
        self._own = np.where(chosen, set_c - error - self._felt(), self._own)

    def service(self, chosen: Flags) -> None:
        """End the spells of scale of some valves."""
        self._spell = self._spell & ~chosen
