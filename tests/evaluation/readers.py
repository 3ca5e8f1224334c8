"""Readers that were not taught by what they read: a fold of the phrasings with a resolver each.

Each text is read by word weights that it did not teach, and one from which names were written by a
catalogue without some of its names, so that it is as hard as a new one. Texts of several requests
are few: pairs of short texts are joined by seeded draws.
"""

from __future__ import annotations

import hashlib
import random
import re
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

from casebank.core.fixtures import load_catalogue
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.wordweights import WordTable
from tests.evaluation.entries import Phrasing, Wanted
from tests.evaluation.learn_words import learned as learn_table
from tests.evaluation.learn_words import of_catalogue, of_phrasings

RECENT = frozenset({"fifth", "sixth", "seventh"})
"""Batches from which names were written, but whose sentences no rule was made for."""
FOLDS, NAMES_LEFT = 4, 0.7
"""A text is read by what the other folds taught; one from which names were written since, by a
catalogue that has lost some of its names: as if it were new."""
PAIRS, SEED = 1000, 7
JOINS = (" and ", ", then ", ", ", ". ", " and ", " then ", " / ", " + ", "; ", ", and ",
         " and also ", "? ", "\n")  # fmt: skip


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
        new = [one for one in inside if one.is_unread]
        old = [one for one in inside if not one.is_unread]
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


def pairs(phrasings: Sequence[Phrasing], count: int, seed: int) -> Iterator[Phrasing]:
    """So many sentences of two or three requests, joined from short texts of one."""
    draw = random.Random(seed)
    kinds: dict[str, list[Phrasing]] = {}
    for one in phrasings:
        if _is_short(one):
            kinds.setdefault(one.kind, []).append(one)
    names = sorted(name for name, texts in kinds.items() if len(texts) >= 3)
    for _ in range(count):
        few = draw.sample(kinds[draw.choice(names)], draw.choice((2, 2, 2, 3)))
        if len({one.requests[0].step for one in few}) == len(few):
            yield _joined(few, draw)


def _is_short(phrasing: Phrasing) -> bool:
    is_one = is_clear(phrasing) and len(phrasing.requests) == 1 and phrasing.after is None
    is_plain = not re.search(r"[.?!,;:]|\band\b|\bthen\b| - ", phrasing.text)
    return is_one and is_plain and len(phrasing.text) < 48 and not counts_in_full(phrasing)


def _joined(few: Sequence[Phrasing], draw: random.Random) -> Phrasing:
    text = few[0].text
    for one in few[1:]:
        text += draw.choice(JOINS) + one.text[0].lower() + one.text[1:]
    return Phrasing(text, tuple(Wanted(one.requests[0].step) for one in few), "pairs", "pairs")


def counts_in_full(phrasing: Phrasing) -> bool:
    """Whether a text counts in full: it is new, or of a batch whose sentences made no rule."""
    return phrasing.is_unread or phrasing.batch in RECENT
