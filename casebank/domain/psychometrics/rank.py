"""Rank agreement of two orders: Kendall's tau-b."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.scores import paired


def kendall_tau(first: ArrayLike, second: ArrayLike) -> Estimate:
    """Kendall's tau-b of two rankings (n,), from -1 to 1; ties allowed, pairs with a NaN left out.

    (C - D)/sqrt((n0 - n1)(n0 - n2)) with n1, n2 the pairs tied in each. ``n_used`` is the number
    of steps both rankings hold, to be shown beside it. ``undefined`` with fewer than two, or if
    one ranking ties them all.
    """
    x, y = paired(first, second)
    method = "Kendall's tau-b, no interval"
    above = np.triu_indices(x.size, k=1)
    a, b = (np.sign(np.subtract.outer(v, v))[above] for v in (x, y))
    untied = float(np.abs(a).sum()) * float(np.abs(b).sum())
    if untied == 0:
        reason = "It takes two shared steps that neither order ties."
        return without_value("undefined", reason, method, x.size, 2)
    return Estimate(float(a @ b) / math.sqrt(untied), None, None, x.size, 2, method)
