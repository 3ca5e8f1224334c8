"""Bayes' rule over the hypotheses of a case; owns the posterior, not what counts as evidence."""

from __future__ import annotations

from numpy.typing import ArrayLike

from casebank.domain.evidence.arrays import (
    Floats,
    as_distribution,
    as_rows,
    log_of,
    normalised,
)


def posterior(prior: ArrayLike, likelihoods: ArrayLike) -> Floats:
    """Probability of every hypothesis after findings that are independent given the hypothesis.

    P(h | findings) is proportional to P(h) times the product of P(finding | h), summed as
    logarithms so that a thousand findings do not underflow. Only the ratios within a row matter,
    so a row of likelihood ratios serves as well as one of probabilities.

    Parameters
    ----------
    prior : array_like, shape (H,)
        Probabilities that sum to 1 (to within 1e-6).
    likelihoods : array_like, shape (..., H)
        One row a finding seen, each not negative; none at all returns the prior.

    Returns
    -------
    ndarray, shape (H,)
        Probabilities that sum to 1.

    Raises
    ------
    ValueError
        If the prior does not sum to 1, a number is negative, NaN or infinite, a row is all zero,
        or the findings together rule out every hypothesis.
    """
    before = as_distribution(prior)
    rows = as_rows(likelihoods, before.size)
    return normalised(log_of(before) + log_of(rows).sum(axis=0))
