"""What a simulated learner says that a perceived sign is, in words such as a student's.

Invented behaviour, as the rest of a learner's: the abler name more signs, and more of each.
"""

from __future__ import annotations

import re

import numpy as np

from casebank.domain.casefile.checks.signs import accepted
from casebank.domain.encounter.perceive import Heard, Medium
from casebank.domain.examination.vocabulary import SIGN, Vocabulary
from casebank.domain.rehearsal.chance import logistic
from casebank.domain.rehearsal.learner import Learner

NAMING, DESCRIBING, SILENT = 0.3, 0.8, -1.5
"""Difficulties in logits: to name a sign, to say one feature of it, to say anything at all."""
LEADS = {"site": "at the ", "radiation": "radiating to the "}


def words_for(vocabulary: Vocabulary, learner: Learner, medium: Medium, entry: int) -> str:
    """The words for what that entry gave to hear or see; empty where the learner says nothing."""
    rng = np.random.default_rng([learner.seed, 3, entry])
    if rng.random() >= logistic(learner.ability - SILENT):
        return ""
    said = (_named(vocabulary, learner, one, rng) for one in medium.heard)
    return "; ".join(dict.fromkeys(filter(None, said)))


def _named(vocabulary: Vocabulary, learner: Learner, heard: Heard, rng: np.random.Generator) -> str:
    parts = []
    for feature, values in heard.expects.items():
        is_known = rng.random() < logistic(learner.ability - _difficulty(feature))
        right = accepted(values)[0]
        if feature == SIGN:
            name = right if is_known else _another(vocabulary, right, rng)
            parts.append(_label(vocabulary, SIGN, name))
        elif is_known:
            parts.append(LEADS.get(feature, "") + _label(vocabulary, feature, right))
    return ", ".join(parts)


def _difficulty(feature: str) -> float:
    return NAMING if feature == SIGN else DESCRIBING


def _another(vocabulary: Vocabulary, right: str, rng: np.random.Generator) -> str:
    """Some sign of the same family."""
    family = vocabulary.signs[right].family
    return str(rng.choice(sorted(s.slug for s in vocabulary.signs.values() if s.family == family)))


def _label(vocabulary: Vocabulary, feature: str, value: str) -> str:
    """The label as it would be said, without what stands in brackets."""
    return re.sub(r"\s*\(.*?\)", "", vocabulary.label(feature, value)).strip()
