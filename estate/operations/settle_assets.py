"""From the rows of an asset list to what would be added and changed, and what is asked."""

from estate.domain.questions import Answers, Question
from estate.operations.ask_visits import Aside
from estate.operations.match_assets import AssetMatcher, missing_notes
from estate.operations.proposals import NewAsset, Proposal
from estate.operations.settle_visits import Basis, in_file_order


def settle_assets(basis: Basis) -> Proposal:
    """Match the rows of a list to the register."""
    reading = basis.reading
    matcher = AssetMatcher(basis.holdings, Answers(basis.answers), reading.assets)
    outcomes = [matcher.match(row) for row in reading.assets]
    asked: list[Question] = [each for some in outcomes if isinstance(some, tuple) for each in some]
    missing = matcher.missing(reading.assets, reading.questions)
    return Proposal(
        reading=reading,
        content=basis.content,
        today=basis.today,
        assets=tuple(each for each in outcomes if isinstance(each, NewAsset)),
        already_there=sum(each is Aside.THERE for each in outcomes),
        questions=in_file_order(reading, asked, basis.holdings),
        answers=basis.answers,
        changes=tuple(matcher.changes),
        missing=missing,
        notes=(*matcher.notes, *missing_notes(missing, reading.file)),
        left_out=sum(each is Aside.LEFT_OUT for each in outcomes),
        state=basis.state,
    )
