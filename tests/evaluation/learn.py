"""Learns the weights by which the resolver keeps a part of a sentence and trusts a reading.

Owns the command line: ``python -m tests.evaluation.learn`` writes ``weights.py`` of the domain.
Logistic regression (scikit-learn, L2) on the phrasings that may be tuned on; those of half
``report`` are never read. A batch that names of the catalogue were written from since is too easy
and counts little. Texts of several requests are few: pairs of short texts are joined by seeded
draws to stand beside them.
"""

from __future__ import annotations

import random
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.preprocessing import StandardScaler

from casebank.core.fixtures import load_resolver
from casebank.domain.examination import keeping, trusting, weights
from tests.evaluation.entries import Phrasing, Wanted, load_phrasings

FRESH = frozenset({"seventh"})
"""Batches from which no name was written yet when the weights were learned."""
RECENT = frozenset({"fifth", "sixth"})
"""Batches from which names were written, but whose sentences no rule was made for."""
RECENT_WEIGHT = {"KEEP": 1.0, "TAKE": 1.0}
STALE_WEIGHT, PAIR_WEIGHT, SEVERAL_WEIGHT, OUTSIDE_WEIGHT = 0.25, 0.4, 3.0, 1.5
"""What a text of an older batch, a made pair, a text of several requests, and one that asks for
nothing count."""
STRENGTH = {"KEEP": 0.05, "TAKE": 0.03}
"""Inverse of the regularisation's strength, chosen by cross-validation."""
LEAST = 0.01
"""A weight that moves a usual text's logit by less is left out."""
PAIRS, SEED = 1000, 7
JOINS = (" and ", ", then ", ", ", ". ", " and ", " then ", " / ", " + ", "; ", ", and ",
         " and also ", "? ", "\n")  # fmt: skip


@dataclass(frozen=True)
class Row:
    """The traits of one answer, whether it was right, and how much it counts."""

    traits: Mapping[str, float]
    is_right: bool
    weight: float


def main() -> int:
    """Learn both tables and write them; prints how many rows each rests on."""
    texts = [one for one in load_phrasings() if one.half == "tune"]
    rows = {
        "KEEP": list(keep_rows([*(one for one in texts if is_clear(one)), *pairs(texts)])),
        "TAKE": list(take_rows(texts)),
    }
    tables = {name: learned(found, STRENGTH[name]) for name, found in rows.items()}
    write(tables)
    for name, found in rows.items():
        sys.stdout.write(f"{name}: {len(found)} rows, {len(tables[name])} weights\n")
    return 0


def is_clear(phrasing: Phrasing) -> bool:
    """Whether the text asks for what a colleague would agree on."""
    return not (phrasing.outside or phrasing.ambiguous)


def keep_rows(phrasings: Iterable[Phrasing]) -> Iterator[Row]:
    """A row for each part of every sentence of several parts."""
    resolver = load_resolver()
    for one in phrasings:
        reading = resolver.reading(one.text)
        parts = resolver.sentences.parts(reading, one.after)
        if len(parts) < 2:
            continue
        described = keeping.traits(parts, reading, resolver.sentences.index)
        for part, traits in zip(parts, described, strict=True):
            yield Row(traits, part.top.slug in wanted(one), _weight(one, "KEEP"))


def take_rows(phrasings: Iterable[Phrasing]) -> Iterator[Row]:
    """A row for each answer that stands; one to a text that asks for nothing is always wrong."""
    resolver = load_resolver()
    sentences = resolver.sentences
    for one in phrasings:
        reading = resolver.reading(one.text)
        for answer in sentences.answers(reading, one.after):
            traits = trusting.traits(answer, reading, sentences.index, sentences.affinity)
            is_right = is_clear(one) and answer.top.slug in wanted(one)
            yield Row(traits, is_right, _weight(one, "TAKE"))


def wanted(phrasing: Phrasing) -> frozenset[str]:
    """The steps that a text asks for, or may fairly be read to ask for."""
    return phrasing.accept | {one.step for one in phrasing.requests}


def pairs(phrasings: Sequence[Phrasing]) -> Iterator[Phrasing]:
    """Sentences of two or three requests, joined from short texts of one."""
    draw = random.Random(SEED)
    kinds: dict[str, list[Phrasing]] = {}
    for one in phrasings:
        if _is_short(one):
            kinds.setdefault(one.kind, []).append(one)
    for _ in range(PAIRS):
        few = draw.sample(kinds[draw.choice(sorted(kinds))], draw.choice((2, 2, 2, 3)))
        if len({one.requests[0].step for one in few}) == len(few):
            yield _joined(few, draw)


def _is_short(phrasing: Phrasing) -> bool:
    is_one = is_clear(phrasing) and len(phrasing.requests) == 1 and phrasing.after is None
    is_plain = not re.search(r"[.?!,;:]|\band\b|\bthen\b| - ", phrasing.text)
    return is_one and is_plain and len(phrasing.text) < 48 and phrasing.batch not in FRESH | RECENT


def _joined(few: Sequence[Phrasing], draw: random.Random) -> Phrasing:
    text = few[0].text
    for one in few[1:]:
        text += draw.choice(JOINS) + one.text[0].lower() + one.text[1:]
    return Phrasing(text, tuple(Wanted(one.requests[0].step) for one in few), "pairs", "pairs")


def _weight(phrasing: Phrasing, table: str) -> float:
    if phrasing.batch == "pairs":
        return PAIR_WEIGHT
    if phrasing.outside:
        return OUTSIDE_WEIGHT
    several = SEVERAL_WEIGHT if len(phrasing.requests) > 1 else 1.0
    if phrasing.batch in FRESH:
        return several
    return several * (RECENT_WEIGHT[table] if phrasing.batch in RECENT else STALE_WEIGHT)


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
    head = path.read_text(encoding="utf-8").split("\nKEEP: ")[0]
    body = "".join(
        f"\n{name}: dict[str, float] = {{\n"
        + "".join(f'    "{key}": {value},\n' for key, value in table.items())
        + "}\n"
        for name, table in tables.items()
    )
    path.write_text(head + body, encoding="utf-8")
    subprocess.run([sys.executable, "-m", "ruff", "format", "-q", str(path)], check=True)


if __name__ == "__main__":
    raise SystemExit(main())
