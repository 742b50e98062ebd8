"""An invented estate of any size, built through the operations; nothing in it is real."""

from estate.sample.build import SAMPLE_TODAY, build_sample
from estate.sample.round import contractors_round

__all__ = ["SAMPLE_TODAY", "build_sample", "contractors_round"]
