"""Learns the weights by which the resolver reads a text whole, cuts it, chooses, keeps and trusts.

Owns the command line: ``python -m tests.evaluation.learn [TABLE…]`` writes ``weights.py`` of the
domain; where tables are named, the others stay.
Logistic regression (scikit-learn, L2) on the phrasings that may be tuned on; those of half
``report`` are never read.
"""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.preprocessing import StandardScaler

from casebank.domain.examination import weights
from tests.evaluation import rows as all_rows
from tests.evaluation.entries import load_phrasings
from tests.evaluation.readers import readers
from tests.evaluation.rows import Row

STRENGTH = {
    "ALONE": 0.05,
    "SEVERAL": 0.05,
    "GOES_ON": 0.1,
    "CHOOSE": 0.01,
    "KEEP": 0.05,
    "TAKE": 0.03,
    "SIDE": 0.03,
}
"""Inverse of the regularisation's strength, chosen by cross-validation."""
LEAST = 0.01
"""A weight that moves a usual text's logit by less is left out."""


def main(arguments: Sequence[str]) -> int:
    """Learn the tables in turn, for each rests on those before, and write them."""
    folds = list(readers([one for one in load_phrasings() if one.half == "tune"]))
    for name in arguments or LEARNING:
        rows_of, learn = LEARNING[name]
        rows = [row for reader in folds for row in rows_of(reader)]
        current = getattr(weights, name)
        found = learn(rows, STRENGTH[name])
        current.clear()
        current.update(found)
        sys.stdout.write(f"{name}: {len(rows)} rows, {len(current)} weights\n")
    write({name: getattr(weights, name) for name in LEARNING})
    return 0


def learned_choice(rows: Sequence[Row], strength: float) -> dict[str, float]:
    """Weights by which the right one of two candidates has more, from what it has more of each
    trait: logistic regression on both directions, without a bias."""
    names = sorted({name for row in rows for name in row.traits})
    more = np.array([[float(row.traits.get(name, 0.0)) for name in names] for row in rows])
    scale = np.sqrt((more**2).mean(axis=0))
    scale[scale == 0] = 1.0
    both = np.vstack([more, -more]) / scale
    counted = np.array([row.weight for row in rows])
    model = LogisticRegression(C=strength, max_iter=5000, fit_intercept=False)
    right = np.repeat([True, False], len(rows))
    model.fit(both, right, sample_weight=np.concatenate([counted, counted]))
    plain = model.coef_[0] / scale
    return {
        name: round(float(weight), 4)
        for name, weight, effect in zip(names, plain, model.coef_[0], strict=True)
        if abs(effect) >= LEAST
    }


def learned(rows: Sequence[Row], strength: float) -> dict[str, float]:
    """The weights of every trait that tells, and the bias, by logistic regression."""
    names = sorted({name for row in rows for name in row.traits})
    table = np.array([[float(row.traits.get(name, 0.0)) for name in names] for row in rows])
    right = np.array([row.is_right for row in rows])
    scaler = StandardScaler().fit(table)
    model = LogisticRegression(C=strength, max_iter=5000)
    model.fit(scaler.transform(table), right, sample_weight=[row.weight for row in rows])
    plain = model.coef_[0] / scaler.scale_
    bias = float(model.intercept_[0] - plain @ scaler.mean_)
    told = {
        name: round(float(weight), 4)
        for name, weight, effect in zip(names, plain, model.coef_[0], strict=True)
        if abs(effect) >= LEAST
    }
    left = [place for place, name in enumerate(names) if name not in told]
    bias += float(plain[left] @ scaler.mean_[left])
    return {"bias": round(bias, 4), **told}


def write(tables: Mapping[str, Mapping[str, float]]) -> None:
    """Replace the tables of the domain's module of weights."""
    path = Path(weights.__file__)
    head = path.read_text(encoding="utf-8").split("\n# fmt: off")[0]
    body = "".join(
        f"{name}: dict[str, float] = {{\n{_wrapped(table)}\n}}\n" for name, table in tables.items()
    )
    path.write_text(f"{head}\n# fmt: off\n{body}", encoding="utf-8")


def _wrapped(table: Mapping[str, float]) -> str:
    """The entries of a table, as many in a line as fit; keys may hold spaces."""
    said = " ".join(f'"{key}":~{value},'.replace(" ", "~") for key, value in table.items())
    lines = textwrap.wrap(said, 96, break_long_words=False, break_on_hyphens=False)
    return "\n".join(f"    {line}" for line in lines).replace("~", " ")


LEARNING = {
    "ALONE": (all_rows.alone_rows, learned),
    "SEVERAL": (all_rows.several_rows, learned),
    "GOES_ON": (all_rows.goes_on_rows, learned),
    "CHOOSE": (all_rows.choose_rows, learned_choice),
    "KEEP": (all_rows.keep_rows, learned),
    "TAKE": (all_rows.take_rows, learned),
    "SIDE": (all_rows.side_rows, learned),
}

if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
