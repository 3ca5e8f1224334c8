"""Measures expected information over a whole catalogue, and items of a large cohort.

Run as ``python -m bench.evidence``: prints milliseconds, and ratios to a plain loop of the same
run that gives the same numbers. Goals: a catalogue of 400 steps within 5 ms, the items of 2,000
learners x 60 within 10 ms.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable

import numpy as np
from scipy import stats

from casebank.core.fixtures import case_texts, load_catalogue
from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter.engine import answer, open_state
from casebank.domain.encounter.knowledge import information_of_catalogue
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import (
    combine,
    entropy,
    expected_information_given_many,
    expected_information_many,
)
from casebank.domain.examination.model import Catalogue
from casebank.domain.psychometrics import (
    alpha,
    alpha_if_deleted,
    discrimination,
    facility,
    g_study,
    standard_error_of_measurement,
    upper_lower_27,
)

CATALOGUE_GOAL_MS = 5.0
ITEMS_GOAL_MS = 10.0


def milliseconds(work: Callable[[], object], runs: int = 15) -> float:
    """Median time of ``work`` over ``runs``."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def plain_information(prior: np.ndarray, tables: np.ndarray) -> list[float]:
    """Expected information by scipy's entropy, one step and outcome at a time."""
    found = []
    for table in tables:
        left = 0.0
        for row in table:
            p = float(row @ prior)
            left += p * float(stats.entropy(row * prior / p, base=2)) if p else 0.0
        found.append(float(stats.entropy(prior, base=2)) - left)
    return found


def plain_given(
    prior: np.ndarray,
    seen: list[tuple[str | None, np.ndarray]],
    groups: list[str | None],
    tables: np.ndarray,
) -> list[float]:
    """Expected information under the group rule by its definition, one outcome at a time."""
    now = combine(prior, seen).posterior
    found = []
    for group, table in zip(groups, tables, strict=True):
        left = sum(
            float(row @ now) * entropy(combine(prior, [*seen, (group, row)]).posterior)
            for row in table
        )
        found.append(max(0.0, entropy(now) - left))
    return found


def plain_discrimination(x: np.ndarray) -> list[float]:
    """Corrected item-total correlation by scipy, one item at a time."""
    total = x.sum(axis=1)
    return [float(stats.pearsonr(column, total - column).statistic) for column in x.T]


def item_block(x: np.ndarray) -> None:
    """Every statistic of the items of one cohort."""
    for statistic in (facility, discrimination, upper_lower_27, alpha_if_deleted):
        statistic(x)
    alpha(x)
    standard_error_of_measurement(x)


def show(name: str, ours: float, loop: float | None = None) -> None:
    """Print one measurement, with its ratio to a plain loop if there is one."""
    beside = "" if loop is None else f"  loop {loop:8.1f} ms  {loop / ours:6.0f}x"
    print(f"{name:<34}{ours:8.2f} ms{beside}")


def catalogue_block(rng: np.random.Generator) -> bool:
    """Expected information of 400 steps, plain and under the group rule; whether both are in time.

    Under the group rule every step shares its group with something seen, which is the dearest case.
    """
    prior = rng.dirichlet(np.ones(8))
    tables = rng.dirichlet(np.ones(5), size=(400, 8)).transpose(0, 2, 1)
    seen: list[tuple[str | None, np.ndarray]] = [(f"g{i % 6}", rng.random(8)) for i in range(12)]
    groups: list[str | None] = [f"g{i % 6}" for i in range(400)]
    plain, under = plain_information(prior, tables), plain_given(prior, seen, groups, tables)
    np.testing.assert_allclose(expected_information_many(prior, tables), plain, atol=1e-9)
    np.testing.assert_allclose(
        expected_information_given_many(prior, seen, groups, tables), under, atol=1e-9
    )
    ours = milliseconds(lambda: expected_information_many(prior, tables))
    given = milliseconds(lambda: expected_information_given_many(prior, seen, groups, tables))
    show(
        "expected information, 400 steps", ours,
        milliseconds(lambda: plain_information(prior, tables), 3),
    )  # fmt: skip
    show(
        "  the same under the group rule", given,
        milliseconds(lambda: plain_given(prior, seen, groups, tables), 3),
    )  # fmt: skip
    return max(ours, given) <= CATALOGUE_GOAL_MS


def shipped_block() -> bool:
    """The whole catalogue for each shipped case, half of its steps done; whether in time."""
    catalogue = load_catalogue()
    slowest = max(shipped_milliseconds(text, catalogue) for text in case_texts().values())
    show(f"  a shipped case, {len(catalogue.steps)} steps", slowest)
    return slowest <= CATALOGUE_GOAL_MS


def shipped_milliseconds(text: str, catalogue: Catalogue) -> float:
    """Of one shipped case."""
    case = compile_case(CaseDocument.model_validate_json(text), catalogue)
    state = open_state(case)
    for step in sorted(case.findings_by_step)[::2]:
        _, state = answer(case, state, Request(step))
    return milliseconds(lambda: information_of_catalogue(case, state))


def item_statistics(rng: np.random.Generator) -> bool:
    """The items of 2,000 learners x 60; whether all of them are in time."""
    x = rng.integers(0, 2, (2000, 60)).astype(float)
    correlations = np.array([e.value for e in discrimination(x)], dtype=float)
    np.testing.assert_allclose(correlations, np.array(plain_discrimination(x)))
    loop = milliseconds(lambda: plain_discrimination(x), 5)
    show("discrimination, 2,000 x 60", milliseconds(lambda: discrimination(x)), loop)
    block = milliseconds(lambda: item_block(x))
    show("every item statistic, 2,000 x 60", block)
    show("g-study, 2,000 x 60", milliseconds(lambda: g_study(x)))
    return block <= ITEMS_GOAL_MS


def main() -> int:
    """Print the table; 1 if a goal is missed."""
    rng = np.random.default_rng(1)
    in_time = [catalogue_block(rng), shipped_block(), item_statistics(rng)]
    return int(not all(in_time))


if __name__ == "__main__":
    sys.exit(main())
