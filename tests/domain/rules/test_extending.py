import pytest

from estate.domain.rules.loading import parse, parse_every
from estate.errors import RuleFault
from tests.domain.rules.rule_text import CEILING, HEAD, PIPE, WHOLE

PART = 'id = "base"\npart = true\ncautions = ["Measure first."]\nleft_aside = [".type-2"]\n' + PIPE
OVER = (
    HEAD.replace('cautions = ["Scald: measure first."]\n', 'extends = "base"\nplace = "Ruritania"\n')
    + CEILING
)
DISAGREE = '[[disagreements]]\nfacts = ["D08-32", "OWN"]\nwords = "Two say so."\napplied = "The lower."\n'
ASKED = '[[not_judged]]\nfacts = ["D08-32"]\nwords = "A yearly look."\n'


def refused(**files: str) -> str:
    """What the fault says about files of which one must be refused."""
    with pytest.raises(RuleFault) as fault:
        parse_every({f"{name}.toml": text for name, text in files.items()})
    return fault.value.detail


def test_that_a_file_takes_over_what_it_extends() -> None:
    rules = parse_every({"base.toml": PART + ASKED, "trial.toml": OVER + DISAGREE})
    assert list(rules) == ["trial"]
    trial = rules["trial"]
    assert set(trial.values) == {"mixed.ceiling.basin", "pipe.blended"}
    assert (trial.place, trial.cautions, trial.left_aside) == ("Ruritania", ("Measure first.",), (".type-2",))
    assert [(each.facts, each.applied) for each in trial.disagreements] == [(("D08-32", "OWN"), "The lower.")]
    assert [each.words for each in trial.not_judged] == ["A yearly look."]


def test_that_its_own_value_stands_before_the_one_it_extends() -> None:
    other = OVER.replace('id = "trial"', 'id = "other"').replace('"base"', '"trial"').replace("= 43", "= 40")
    rules = parse_every({"base.toml": PART, "trial.toml": OVER, "other.toml": other})
    assert (rules["trial"].number("mixed.ceiling.basin"), rules["other"].number("mixed.ceiling.basin")) == (
        43,
        40,
    )
    assert rules["other"].number("pipe.blended") == 2


@pytest.mark.parametrize(
    ("base", "trial", "named"),
    [
        (PART, OVER.replace('"base"', '"nowhere"'), "extends is 'nowhere'"),
        (PART, OVER.replace('"base"', '"trial"'), "extends is 'trial'"),
        ('extends = "trial"\n' + PART, OVER, "extends is 'trial'"),
        (PART, OVER.replace('"base"', "3"), "extends is 3"),
        (PART.replace("part = true", 'part = "yes"'), OVER, "part is 'yes'"),
        (PART.replace('[".type-2"]', '".type-2"'), OVER, "left_aside is '.type-2'"),
        ("values = 3\n" + PART.replace(PIPE, ""), OVER, "values is 3"),
    ],
)
def test_that_a_file_that_can_not_be_extended_is_refused(base: str, trial: str, named: str) -> None:
    assert named in refused(base=base, trial=trial)


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('facts = ["D08-32", "OWN"]', "facts = []", "disagreements.facts is []"),
        ('facts = ["D08-32", "OWN"]', 'facts = ["somewhere"]', "disagreements.facts is 'somewhere'"),
        ('words = "Two say so."', 'words = ""', "disagreements.words is ''"),
        ('applied = "The lower."\n', "", "disagreements.applied is missing"),
        ("[[disagreements]]", "[disagreements]", "disagreements is {"),
        ("[[disagreements]]", "[[not_judged]]", "not_judged.applied is 'The lower.'"),
    ],
)
def test_that_a_remark_without_facts_or_words_is_refused(old: str, new: str, named: str) -> None:
    with pytest.raises(RuleFault) as fault:
        parse(WHOLE + DISAGREE.replace(old, new), "trial.toml")
    assert named in fault.value.detail


def test_that_what_is_left_aside_is_a_list_of_texts() -> None:
    with pytest.raises(RuleFault, match="left_aside is 3"):
        parse("left_aside = 3\n" + WHOLE, "trial.toml")
