"""Learns the weights by which the resolver chooses a step, keeps a part and trusts a reading.

Owns the command line: ``python -m tests.evaluation.learn`` writes ``weights.py`` of the domain.
Logistic regression (scikit-learn, L2) on the phrasings that may be tuned on; those of half
``report`` are never read. Each text is read by word weights that it did not teach, and one from
which names were written by a catalogue without some of its names, so that it is as hard as a new
one. Texts of several requests are few: pairs of short texts are joined by seeded draws.
"""

from __future__ import annotations

import hashlib
import random
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.preprocessing import StandardScaler

from casebank.core.fixtures import load_catalogue
from casebank.domain.examination import choosing, keeping, trusting, weights
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.wordweights import WordTable
from tests.evaluation.entries import Phrasing, Wanted, load_phrasings
from tests.evaluation.learn_words import learned as learn_table
from tests.evaluation.learn_words import of_catalogue, of_phrasings

FRESH = frozenset({"eighth", "ninth", "tenth"})
"""Batches from which no name was written before the weights were learned."""
RECENT = frozenset({"fifth", "sixth", "seventh"})
"""Batches from which names were written, but whose sentences no rule was made for."""
STALE_WEIGHT, PAIR_WEIGHT, SEVERAL_WEIGHT, OUTSIDE_WEIGHT = 0.25, 0.4, 3.0, 1.5
"""What a text of an older batch, a made pair, a text of several requests, and one that asks for
nothing count."""
FOLDS, NAMES_LEFT = 4, 0.7
"""A text is read by what the other folds taught; one from which names were written since, by a
catalogue that has lost some of its names: as if it were new."""
STRENGTH = {"CHOOSE": 0.01, "KEEP": 0.05, "TAKE": 0.03}
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
    """Learn the three tables in turn, for each rests on those before, and write them."""
    folds = list(readers([one for one in load_phrasings() if one.half == "tune"]))
    tables = {}
    for name, (rows_of, learn) in LEARNING.items():
        rows = [row for reader in folds for row in rows_of(reader)]
        tables[name] = learn(rows, STRENGTH[name])
        current = getattr(weights, name)
        current.clear()
        current.update(tables[name])
        sys.stdout.write(f"{name}: {len(rows)} rows, {len(tables[name])} weights\n")
    write(tables)
    return 0


@dataclass(frozen=True)
class Reader:
    """A resolver with texts that taught it nothing."""

    resolver: Resolver
    texts: Sequence[Phrasing]


def readers(texts: Sequence[Phrasing]) -> Iterator[Reader]:
    """For each fold a resolver for its new texts, and one for those that names were written from;
    made pairs among the latter."""
    whole, some = load_catalogue(), thinned(load_catalogue())
    folds = [[one for one in texts if _fold(one) == fold] for fold in range(FOLDS)]
    jobs = [
        (catalogue, [one for one in texts if _fold(one) != fold])
        for fold in range(FOLDS)
        for catalogue in (whole, some)
    ]
    with ProcessPoolExecutor(2) as pool:
        tables = list(pool.map(_taught, *zip(*jobs, strict=True)))
    for fold, inside in enumerate(folds):
        new = [one for one in inside if one.batch in FRESH]
        old = [one for one in inside if one.batch not in FRESH]
        made = list(pairs(inside, PAIRS // FOLDS, SEED + fold))
        yield Reader(Resolver(whole, tables[2 * fold]), new)
        yield Reader(Resolver(some, tables[2 * fold + 1]), [*old, *made])


def thinned(catalogue: Catalogue) -> Catalogue:
    """The catalogue without some of its names, by seeded draws."""
    draw = random.Random(SEED)
    steps = {
        slug: replace(
            step, synonyms=tuple(said for said in step.synonyms if draw.random() < NAMES_LEFT)
        )
        for slug, step in catalogue.steps.items()
    }
    return replace(catalogue, steps=steps)


def _taught(catalogue: Catalogue, texts: Sequence[Phrasing]) -> WordTable:
    resolver = Resolver(catalogue)
    return learn_table([*of_catalogue(catalogue, resolver), *of_phrasings(texts, resolver)])


def _fold(phrasing: Phrasing) -> int:
    return hashlib.sha256(phrasing.text.encode()).digest()[0] % FOLDS


def is_clear(phrasing: Phrasing) -> bool:
    """Whether the text asks for what a colleague would agree on."""
    return not (phrasing.outside or phrasing.ambiguous)


def choose_rows(reader: Reader) -> Iterator[Row]:
    """A row for each wrong step near a right one: by how much the right one's traits are more."""
    sentences = reader.resolver.sentences
    for one in filter(is_clear, reader.texts):
        reading = reader.resolver.reading(one.text)
        for part in sentences.parts(reading, one.after):
            ranked = tuple(sorted(part.ranked, key=lambda each: -each.score))
            found = choosing.traits(replace(part, ranked=ranked), reading, sentences.grounds)
            if not choosing.stands(part):
                yield from _choices(one, [each.slug for each in ranked], found)


def _choices(
    phrasing: Phrasing, slugs: Sequence[str], found: Sequence[Mapping[str, float]]
) -> Iterator[Row]:
    """Of a part of several requests only its best right step is right: the others have theirs."""
    right = [place for place, slug in enumerate(slugs) if slug in wanted(phrasing)]
    if not right:
        return
    best = found[right[0]]
    fair = wanted(phrasing) if len(phrasing.requests) == 1 else {slugs[right[0]]}
    others = [each for each, slug in zip(found, slugs, strict=True) if slug not in fair]
    for other in others:
        traits = {name: best[name] - other[name] for name in best}
        yield Row(traits, True, _weight(phrasing) / len(others))


def keep_rows(reader: Reader) -> Iterator[Row]:
    """A row for each part of every sentence of several parts."""
    sentences = reader.resolver.sentences
    for one in filter(is_clear, reader.texts):
        reading = reader.resolver.reading(one.text)
        parts = sentences.parts(reading, one.after)
        if len(parts) < 2:
            continue
        described = keeping.traits(parts, reading, sentences.grounds)
        for part, traits in zip(parts, described, strict=True):
            yield Row(traits, part.top.slug in wanted(one), _weight(one))


def take_rows(reader: Reader) -> Iterator[Row]:
    """A row for each answer that stands; one to a text that asks for nothing is always wrong."""
    sentences = reader.resolver.sentences
    for one in reader.texts:
        reading = reader.resolver.reading(one.text)
        for answer in sentences.answers(reading, one.after):
            traits = trusting.traits(answer, reading, sentences.grounds)
            is_right = is_clear(one) and answer.top.slug in wanted(one)
            yield Row(traits, is_right, _weight(one))


def wanted(phrasing: Phrasing) -> frozenset[str]:
    """The steps that a text asks for, or may fairly be read to ask for."""
    return phrasing.accept | {one.step for one in phrasing.requests}


def pairs(phrasings: Sequence[Phrasing], count: int, seed: int) -> Iterator[Phrasing]:
    """So many sentences of two or three requests, joined from short texts of one."""
    draw = random.Random(seed)
    kinds: dict[str, list[Phrasing]] = {}
    for one in phrasings:
        if _is_short(one):
            kinds.setdefault(one.kind, []).append(one)
    for _ in range(count):
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


def _weight(phrasing: Phrasing) -> float:
    if phrasing.batch == "pairs":
        return PAIR_WEIGHT
    if phrasing.outside:
        return OUTSIDE_WEIGHT
    several = SEVERAL_WEIGHT if len(phrasing.requests) > 1 else 1.0
    return several * (1.0 if phrasing.batch in FRESH | RECENT else STALE_WEIGHT)


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
    head = path.read_text(encoding="utf-8").split("\nCHOOSE: ")[0]
    body = "".join(
        f"\n{name}: dict[str, float] = {{\n"
        + "".join(f'    "{key}": {value},\n' for key, value in table.items())
        + "}\n"
        for name, table in tables.items()
    )
    path.write_text(head + body, encoding="utf-8")
    subprocess.run([sys.executable, "-m", "ruff", "format", "-q", str(path)], check=True)


LEARNING = {
    "CHOOSE": (choose_rows, learned_choice),
    "KEEP": (keep_rows, learned),
    "TAKE": (take_rows, learned),
}

if __name__ == "__main__":
    raise SystemExit(main())
