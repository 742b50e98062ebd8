"""Which rule set holds where, with the site's own values laid over it."""

from collections.abc import Mapping

from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.rules.overlay import lay_over
from estate.domain.rules.values import Override, RuleSet
from estate.errors import RuleFault
from estate.store import places, rules
from estate.store.database import Session


class RuleBook:
    """Finds the rules for an outlet: its own choice, else its building's, else the estate's.

    Args:
        published: rule sets as published, by id.
        estate_choice: id of the estate's rule set.
        building_choices: rule set by building id.
        building_of: building id by outlet id.
        overrides: every override, oldest first.
    """

    def __init__(
        self,
        published: Mapping[str, RuleSet],
        estate_choice: str,
        building_choices: Mapping[int, str],
        building_of: Mapping[int, int],
        overrides: tuple[Override, ...],
    ) -> None:
        self._published = published
        self._estate_choice = estate_choice
        self._building_choices = building_choices
        self._building_of = building_of
        self.overrides = overrides
        self._own_places = {each.place for each in overrides}
        self._made: dict[tuple[str, tuple[str, ...]], RuleSet] = {}

    def with_override(self, made: Override) -> "RuleBook":
        """The same rules with one more override laid over, to try what it would do."""
        return RuleBook(
            self._published,
            self._estate_choice,
            self._building_choices,
            self._building_of,
            (*self.overrides, made),
        )

    def at_estate(self) -> RuleSet:
        """The rules of the estate as a whole."""
        return self._laid_over(self._estate_choice, ("estate",))

    def at_building(self, building_id: int) -> RuleSet:
        """The rules of one building."""
        chosen = self._building_choices.get(building_id, self._estate_choice)
        return self._laid_over(chosen, ("estate", f"building:{building_id}"))

    def at_outlet(self, outlet: Outlet) -> RuleSet:
        """The rules of one outlet."""
        building_id = self._building_of[outlet.id]
        chosen = outlet.rule_set or self._building_choices.get(building_id, self._estate_choice)
        if not self._own_places:
            return self._laid_over(chosen, ())
        return self._laid_over(chosen, ("estate", f"building:{building_id}", f"outlet:{outlet.id}"))

    def in_force(self, outlets: tuple[Outlet, ...]) -> tuple[RuleSet, ...]:
        """The estate's rule set and every other one chosen somewhere, each once."""
        sets = {self._estate_choice: self.at_estate()}
        for outlet in outlets:
            rules_there = self.at_outlet(outlet)
            sets.setdefault(rules_there.id, rules_there)
        return tuple(sets.values())

    def _laid_over(self, rule_set: str, wide_to_narrow: tuple[str, ...]) -> RuleSet:
        used = tuple([place for place in wide_to_narrow if place in self._own_places])
        key = (rule_set, used)
        if key not in self._made:
            if rule_set not in self._published:
                raise RuleFault(
                    "A rule set is missing",
                    phrase(
                        'The register asks for "{rule_set}", which this program does not bring with it.',
                        rule_set=rule_set,
                    ),
                    phrase("Choose one of: {known}.", known=", ".join(sorted(self._published))),
                )
            self._made[key] = lay_over(self._published[rule_set], self.overrides, used)
        return self._made[key]


def read_rulebook(session: Session, published: Mapping[str, RuleSet]) -> RuleBook:
    """Read a register's choices and overrides."""
    return RuleBook(
        published,
        rules.estate_rule_set(session),
        places.building_rule_sets(session),
        places.building_of_outlet(session),
        rules.overrides(session),
    )
