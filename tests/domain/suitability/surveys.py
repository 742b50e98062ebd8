"""Surveys for the tests: one in which everything holds, and one with nothing measured."""

from dataclasses import replace
from typing import Any

from estate.domain.places import Use, UserGroup
from estate.domain.suitability.check import Suitability, check_suitability
from estate.domain.suitability.conditions import Condition
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import SchemeClass
from tests.builders import healthcare

RULES = healthcare()
BARE = Survey(Use.BASIN, UserGroup.PATIENTS)
SOUND = Survey(
    Use.BASIN,
    UserGroup.PATIENTS,
    hot=Supply(60.0, 3.0, 2.0),
    cold=Supply(12.0, 3.0, 2.0),
    set_c=41.0,
    scheme_class=SchemeClass.TYPE_3,
    designations=("HP-W",),
    wanted_l_min=6.0,
    pipe_m=1.2,
    model=ModelFigures(10.0, 5.0, 2.5, 3.0, 6.0, 10.0, 85.0),
    risk_assessed=True,
)


def worked_out(survey: Survey = SOUND, **changed: Any) -> Suitability:
    """A survey, changed, under the healthcare rule set."""
    return check_suitability(replace(survey, **changed), RULES)


def condition(found: Suitability, code: str) -> Condition:
    """The one condition of a code."""
    (one,) = [each for each in found.conditions if each.code == code]
    return one


def hot(**figures: float | None) -> Supply:
    """The sound hot supply, changed."""
    return replace(SOUND.hot, **figures)


def cold(**figures: float | None) -> Supply:
    """The sound cold supply, changed."""
    return replace(SOUND.cold, **figures)
