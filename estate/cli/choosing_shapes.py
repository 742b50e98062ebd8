"""What ``suitability``, ``diagnose`` and ``forecast`` give with ``--json``; keys are stable."""

from dataclasses import asdict
from typing import Any

from estate.domain.diagnosis.diagnose import Suspect
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.forecast import Forecast
from estate.domain.suitability.conditions import Condition
from estate.domain.suitability.fitting import DesignationFit
from estate.domain.suitability.given import Checked


def suitability_shape(found: Checked) -> dict[str, Any]:
    """What ``suitability`` gives."""
    made = found.suitability
    return {
        "place": found.place or None,
        "valve": found.valve or None,
        "taken_from": list(found.taken_from),
        "rule_set": made.rule_set,
        "rule_set_edition": made.rule_set_edition,
        "class": made.kind,
        "class_assumed": made.kind_assumed,
        "band": made.band,
        "survey": asdict(made.survey),
        "conditions": [_condition(each) for each in made.conditions],
        "would_fit": [_fit(each) for each in made.fits],
        "mechanical_mixer": asdict(made.swings) if made.swings else None,
        "cautions": list(made.cautions),
    }


def _condition(made: Condition) -> dict[str, Any]:
    return {
        "code": made.code,
        "name": made.name,
        "held": made.held.value,
        "value": made.value,
        "unit": made.unit,
        "low": made.low.value if made.low and made.unit else None,
        "high": made.high.value if made.high and made.unit else None,
        "margin": made.margin,
        "words": made.words,
        "source": made.source,
        "sureness": made.sureness,
        "mend": list(made.mend),
    }


def _fit(made: DesignationFit) -> dict[str, Any]:
    return {
        "class": made.scheme_class,
        "band": made.band,
        "codes": list(made.codes),
        "enough": made.enough,
        "held": made.held.value,
        "outside": list(made.outside),
        "missing": list(made.missing),
        "reduced_bar": made.reduced_bar,
        "sources": list(made.sources),
    }


def diagnosis_shape(found: Diagnosed) -> dict[str, Any]:
    """What ``diagnose`` gives."""
    made = found.diagnosis
    return {
        "ref": found.outlet.reference,
        "valve": found.valve,
        "visit": made.on.isoformat(),
        "symptoms": list(made.symptoms),
        "causes": [_suspect(each) for each in made.suspects],
        "nothing_speaks_for": [_suspect(each) for each in made.others],
        "checks": [asdict(each) for each in made.checks],
        "wanted": [asdict(each) for each in made.wanted],
        "ordering": made.ordering,
        "cautions": list(made.cautions),
    }


def _suspect(made: Suspect) -> dict[str, Any]:
    return {
        "code": made.cause.code,
        "name": made.cause.name,
        "evidence": [asdict(each) for each in made.evidence],
    }


def forecast_shape(found: Forecast) -> dict[str, Any]:
    """What ``forecast`` gives; intervals are of 95 %."""
    return {**asdict(found), "as_at": found.as_at.isoformat()}
