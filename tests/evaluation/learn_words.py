"""Learns what each word says for each step: ``python -m tests.evaluation.learn_words``.

Writes ``fixtures/word-weights.npz``. One linear support vector machine a step against all others
(scikit-learn, L2, squared hinge) on words weighted by their rarity, of three kinds of text: the
catalogue's names, its descriptions, and the phrasings that may be tuned on. Phrasings of half
``report`` are never read.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from sklearn.feature_extraction.text import TfidfVectorizer
from sklearn.svm import LinearSVC

from casebank.core.fixtures import WORD_WEIGHTS, load_catalogue
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.wordweights import WordTable, table_of
from tests.evaluation.entries import Phrasing, load_phrasings

STRENGTH = 1.0
"""Inverse of the regularisation's strength, chosen on a batch of phrasings that was not learned."""
SAID = 2.0
"""What a phrasing counts against a name or a description."""
LEAST_SEEN, LEAST, SCALE, MOST = 2, 0.1, 0.03, 127
"""A word of fewer texts, and a weight nearer to zero, is left out; a stored weight is a whole
number of the scale, from -127 to 127."""
SEED = 5


@dataclass(frozen=True)
class Text:
    """The keys of one text and the step it means."""

    keys: tuple[str, ...]
    step: str
    weight: float = 1.0


def main() -> int:
    """Learn the table and write it; prints its size."""
    catalogue = load_catalogue()
    resolver = Resolver(catalogue)
    phrasings = [one for one in load_phrasings() if one.half == "tune"]
    data = stored([*of_catalogue(catalogue, resolver), *of_phrasings(phrasings, resolver)])
    WORD_WEIGHTS.write_bytes(data)
    table = table_of(data)
    sys.stdout.write(f"{len(table.words)} words, {len(table.weights)} weights\n")
    return 0


def of_catalogue(catalogue: Catalogue, resolver: Resolver) -> list[Text]:
    """Names and descriptions of every step."""
    return [
        Text(keys_of(said, resolver), step.slug)
        for step in catalogue.steps.values()
        for said in (step.label, *step.synonyms, step.looks_for, step.how)
    ]


def of_phrasings(phrasings: Iterable[Phrasing], resolver: Resolver) -> list[Text]:
    """Phrasings that ask for one step and do not lean on a request before."""
    return [
        Text(keys_of(one.text, resolver), one.requests[0].step, SAID)
        for one in phrasings
        if len(one.requests) == 1 and not one.ambiguous and one.after is None
    ]


def keys_of(text: str, resolver: Resolver) -> tuple[str, ...]:
    """The keys of a text as the resolver reads them."""
    return tuple(token.key for token in resolver.reading(text).tokens)


def learned(texts: Sequence[Text]) -> WordTable:
    """The table that these texts teach."""
    return table_of(stored(texts))


def stored(texts: Sequence[Text]) -> bytes:
    """The same as a file."""
    counter = TfidfVectorizer(analyzer=list, sublinear_tf=True, min_df=LEAST_SEEN)
    seen = counter.fit_transform([one.keys for one in texts])
    model = LinearSVC(C=STRENGTH, max_iter=300, random_state=SEED)
    model.fit(seen, [one.step for one in texts], sample_weight=[one.weight for one in texts])
    weights = np.where(np.abs(model.coef_) < LEAST, 0, model.coef_).T
    whole = np.clip(np.rint(weights / SCALE), -MOST, MOST).astype(np.int8)
    words, steps = np.nonzero(whole)
    file = io.BytesIO()
    np.savez_compressed(
        file,
        words=np.array(" ".join(counter.get_feature_names_out())),
        rarity=counter.idf_.astype(np.float32),
        steps=np.array(" ".join(model.classes_)),
        bias=model.intercept_.astype(np.float32),
        counts=np.bincount(words, minlength=len(whole)).astype(np.uint16),
        numbers=steps.astype(np.uint16),
        weights=whole[words, steps],
        scale=np.float32(SCALE),
    )
    return file.getvalue()


if __name__ == "__main__":
    raise SystemExit(main())
