"""The one function that works out whether a valve would work where it is to be fitted."""

from dataclasses import dataclass

from estate.domain.designations import BANDS
from estate.domain.phrases import phrase, together
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.conditions import Condition, Held
from estate.domain.suitability.fitting import DesignationFit, designation_fits
from estate.domain.suitability.footing import Footing
from estate.domain.suitability.mounting import mounting_conditions
from estate.domain.suitability.pressures import pressure_conditions
from estate.domain.suitability.survey import Survey
from estate.domain.suitability.swings import Swings, mechanical_swings
from estate.domain.suitability.temperatures import temperature_conditions
from estate.domain.valves import SchemeClass

CAUTIONS = (
    "This lists what holds and what fails of the conditions that it knows; it permits nothing. Local codes, "
    "the maker's instructions, the site's risk assessment and competent, licensed people decide.",
    "A margin smaller than the uncertainty of the reading is no margin. Pressures change over the day "
    "and with what else is drawn: measure at the worst times.",
    "Scald and isolation: hot water at supply temperature burns within seconds. Isolate both supplies before "
    "work and keep people away while measuring. Never lower the hot supply to make an outlet safe: "
    "legionella grows.",
)


@dataclass(frozen=True, slots=True)
class Suitability:
    """What was worked out for one place and valve.

    Attributes:
        kind: class that the conditions were checked for; None where neither valve nor rule set names one.
        kind_assumed: whether that is the class its users need, for want of a valve in mind.
        band: pressure band that they were checked for, ``hp`` or ``lp``; None without a designation.
        fits: which classes and designations these supplies would fit.
        swings: what a mixer that does not regulate would do; None where it can't be told.
    """

    survey: Survey
    rule_set: str
    rule_set_edition: str
    kind: SchemeClass | None
    kind_assumed: bool
    band: str | None
    conditions: tuple[Condition, ...]
    fits: tuple[DesignationFit, ...]
    swings: Swings | None
    cautions: tuple[str, ...]

    @property
    def checked_for(self) -> str:
        """Class, pressure band and rules that it was checked for, in one sentence."""
        kind = phrase("no class") if self.kind is None else phrase("Type {kind}", kind=self.kind.value)
        band = "" if self.band is None else phrase(BANDS[self.band])
        need = phrase("the class its users need, for want of a valve in mind") if self.kind_assumed else ""
        return phrase(
            "Checked for {what}; rules {rules} {edition}",
            what=together(kind, band, need, between=", "),
            rules=self.rule_set,
            edition=self.rule_set_edition,
        )

    def of(self, held: Held) -> tuple[Condition, ...]:
        """Its conditions that came to one end."""
        return tuple(each for each in self.conditions if each.held is held)


def check_suitability(survey: Survey, rules: RuleSet) -> Suitability:
    """Hold a survey against a rule set and the model's own figures.

    Args:
        survey: the place, its supplies and the valve in mind; what is missing is never taken to hold.
        rules: the rules in force there.
    """
    on = Footing(survey, rules)
    return Suitability(
        survey=survey,
        rule_set=rules.id,
        rule_set_edition=rules.edition,
        kind=on.kind,
        kind_assumed=survey.scheme_class is None and on.kind is not None,
        band=on.band,
        conditions=(*temperature_conditions(on), *pressure_conditions(on), *mounting_conditions(on)),
        fits=designation_fits(on),
        swings=mechanical_swings(on),
        cautions=(*CAUTIONS, *rules.cautions),
    )
