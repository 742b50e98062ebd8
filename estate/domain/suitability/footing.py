"""The class, set temperature and pressure band by which a survey is worked out."""

from dataclasses import dataclass
from functools import cached_property

from estate.domain.designations import bands_of
from estate.domain.limits import use_key
from estate.domain.phrases import phrase
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.bounds import Bound, Sureness, lowest, rule_bound
from estate.domain.suitability.survey import Survey
from estate.domain.valves import SchemeClass


@dataclass(frozen=True)
class Footing:
    """A survey under a rule set."""

    survey: Survey
    rules: RuleSet

    def bound(self, key: str) -> Bound | None:
        """The limit of a rule key with its sureness."""
        return rule_bound(self.rules, key)

    @cached_property
    def by_class(self) -> bool:
        """Whether the rule set goes by scheme classes and designations, as the United Kingdom's do."""
        return any(key.startswith(("class.needed.", "pressure.flow-")) for key in self.rules.values)

    @cached_property
    def needed(self) -> Bound | None:
        """The class that the users need; None where the rule set does not say."""
        return self.bound(f"class.needed.{self.survey.users.value.split()[0]}")

    @cached_property
    def kind(self) -> SchemeClass | None:
        """The class that the conditions are checked for: the one in mind, else the one needed."""
        if self.survey.scheme_class is not None or self.needed is None:
            return self.survey.scheme_class
        return SchemeClass(f"{self.needed.value:.0f}")

    def kind_words(self, what: str) -> str:
        """What is compared, with the class that it is compared for."""
        if self.kind:
            return phrase("{what} for Type {kind}", what=what, kind=self.kind.value)
        return phrase("{what} for the valve", what=what)

    @cached_property
    def set_c(self) -> Bound | None:
        """The mixed temperature that is wanted: as given, else the highest of the rule set."""
        if self.survey.set_c is not None:
            return Bound(self.survey.set_c, "the set temperature wanted, as given", Sureness.SITE)
        return self.bound(f"mixed.set.{use_key(self.survey.use)}")

    @cached_property
    def ceiling_c(self) -> Bound | None:
        """Highest mixed temperature accepted there (D08-30..35)."""
        published = self.bound(f"mixed.ceiling.{use_key(self.survey.use)}")
        over, wanted = self.bound("mixed.ceiling-over-set"), self.set_c
        if published is None and over is not None and wanted is not None:
            words = f"set {wanted.value:g} °C + {over.value:g} K; {over.source}"
            published = Bound(wanted.value + over.value, words, over.sureness)
        return lowest((published, self.bound("mixed.never-above"))) if published is not None else None

    @cached_property
    def band(self) -> str | None:
        """The pressure band it is checked for: of those designated the one that fits best (D08-13)."""
        named = bands_of(self.survey.designations)
        return min(named, key=self._misfits, default=None)

    def flow_range(self, kind: SchemeClass | None, band: str | None) -> tuple[Bound | None, Bound | None]:
        """Flow pressures of a class and a band."""
        if kind is None or band is None:
            return None, None
        return (
            self.bound(f"pressure.flow-min.type-{kind}.{band}"),
            self.bound(f"pressure.flow-max.type-{kind}.{band}"),
        )

    def _misfits(self, band: str) -> int:
        low, high = self.flow_range(self.kind, band)
        flows = (self.survey.hot.flow_bar, self.survey.cold.flow_bar)
        return sum(
            (low is not None and each < low.value) + (high is not None and each > high.value)
            for each in flows
            if each is not None
        )
