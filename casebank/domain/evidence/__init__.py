"""Bayes, likelihood ratios, expected information and the scoring of stated probabilities.

Pure functions on arrays; probabilities sum to 1, information is in bits.
"""

from casebank.domain.evidence.bayes import posterior
from casebank.domain.evidence.calibration import CalibrationBin, calibration_bins
from casebank.domain.evidence.groups import (
    Combined,
    combine,
    expected_information_given,
    expected_information_given_many,
    strengths_of,
)
from casebank.domain.evidence.information import (
    entropies,
    entropy,
    expected_information,
    expected_information_many,
)
from casebank.domain.evidence.interval import PosteriorInterval, posterior_interval
from casebank.domain.evidence.judgement import (
    jensen_shannon,
    proper_score_against,
    quadratic_score,
)
from casebank.domain.evidence.ratios import (
    Ratio,
    likelihood_ratio_from_counts,
    ratio_rows,
    sensitivity_specificity,
)
from casebank.domain.evidence.scoring import LOG_SCORE_CLIP, Murphy, brier, log_score, murphy
from casebank.domain.evidence.value import Ranked, most_useful

__all__ = [
    "LOG_SCORE_CLIP",
    "CalibrationBin",
    "Combined",
    "Murphy",
    "PosteriorInterval",
    "Ranked",
    "Ratio",
    "brier",
    "calibration_bins",
    "combine",
    "entropies",
    "entropy",
    "expected_information",
    "expected_information_given",
    "expected_information_given_many",
    "expected_information_many",
    "jensen_shannon",
    "likelihood_ratio_from_counts",
    "log_score",
    "most_useful",
    "murphy",
    "posterior",
    "posterior_interval",
    "proper_score_against",
    "quadratic_score",
    "ratio_rows",
    "sensitivity_specificity",
    "strengths_of",
]
