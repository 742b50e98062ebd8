"""The verdict of a visit from all its checks, and from those that bear on it."""

from itertools import product

from estate.domain.findings import Finding, Judgement, Outcome, Severity, Verdict, verdict_of

CHECKS = (
    Finding("a", Outcome.MET, ""),
    Finding("b", Outcome.MET, "", required=True),
    Finding("c", Outcome.NOT_TESTED, ""),
    Finding("d", Outcome.NOT_TESTED, "", required=True),
    Finding("e", Outcome.NOT_MET, "", Severity.NOTE),
    Finding("f", Outcome.NOT_MET, ""),
    Finding("g", Outcome.NOT_MET, "", Severity.WATCH),
    Finding("h", Outcome.NOT_MET, "", Severity.PUT_RIGHT),
    Finding("i", Outcome.NOT_MET, "", Severity.OUT_OF_USE, required=True),
)


def test_that_the_checks_that_were_met_and_the_missing_ones_that_may_be_missing_can_be_left_out() -> None:
    for chosen in product((False, True), repeat=len(CHECKS)):
        checks = tuple(each for each, taken in zip(CHECKS, chosen, strict=True) if taken)
        met = [each for each in checks if each.outcome is Outcome.MET]
        telling = [
            each
            for each in checks
            if each not in met and (each.required or each.outcome is not Outcome.NOT_TESTED)
        ]
        whole = Judgement("rules", "1", checks).verdict
        assert verdict_of(telling, any_met=bool(met)) is whole


def test_that_a_missing_required_value_outranks_what_is_only_watched() -> None:
    met, free, required, note, _, watch, wrong, _ = CHECKS[1:]
    assert Judgement("rules", "1", (met, free)).verdict is Verdict.SATISFACTORY
    assert Judgement("rules", "1", (met, note, watch)).verdict is Verdict.WATCH
    assert Judgement("rules", "1", (met, watch, required)).verdict is Verdict.NOT_TESTED
    assert Judgement("rules", "1", (watch, free)).verdict is Verdict.NOT_TESTED
    assert Judgement("rules", "1", (met, required, wrong)).verdict is Verdict.PUT_RIGHT
    assert Judgement("rules", "1", ()).verdict is Verdict.NOT_TESTED
