"""What may be taken at all, however likely: nothing in doubt about a side or a drug, and no
drug that was not named or that is to be stopped.
"""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.doses import is_of_dose
from casebank.domain.examination.doubts import is_only_told, is_question
from casebank.domain.examination.lexicon import ORDERED, STOPPED, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.scoring import FULL, Candidate
from casebank.domain.examination.stems import keys_in
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, Token

GIVEN = "give-"
"""How the steps that give a drug are called."""
STOPS = "stop-harmful-drug"
"""The step that stops one."""
NOT_TO, NEAR = keys_in("no stop discontinue cease suspend"), 4
"""*No more fluids*: a treatment is denied from fewer than so many words before."""
BEGUN = ORDERED | {key for key, method in VERBS.items() if method is Method.TREAT}
"""Words after which what was denied before is not meant: *no pulse, start CPR*."""


def is_undoubted(top: Candidate, index: StepIndex) -> bool:
    """Whether nothing of a step is in doubt, and a treatment was named in full."""
    is_treatment = index.steps[top.slug].method is Method.TREAT
    is_unnamed = is_treatment and top.named <= FULL and not top.inherits
    return bool(top.said.techniques) and not top.doubts and not is_unnamed


def is_stopped(answer: Answer, reading: Reading, index: StepIndex) -> bool:
    """Whether a treatment would be given that may be one to stop or not to begin, or a drug that is
    only asked about: *hold ramipril and naproxen*, *no antibiotics yet*, *stop CPR*."""
    step = index.steps[answer.top.slug]
    if step.method is not Method.TREAT or step.slug == STOPS:
        return False
    if _is_denied(answer, reading, index):
        return True
    if not step.slug.startswith(GIVEN):
        return False
    said = {reading.tokens[place].key for place in answer.group.places}
    is_said_before = any(token.key in STOPPED for token in reading.tokens)
    is_held = bool(said & STOPPED) or (is_said_before and said.isdisjoint(VERBS))
    return is_held or is_only_told(reading)


def _is_denied(answer: Answer, reading: Reading, index: StepIndex) -> bool:
    """Whether a drug, or a word of the treatment's own label, stands shortly after *no* or *stop*,
    and nothing is begun between them."""
    slug = answer.top.slug
    label = index.label_keys(slug) - BEGUN
    own = index.entries[index.number[slug]].named_by & (index.drug_keys | label)
    denied = (place for place, token in enumerate(reading.tokens) if token.key in NOT_TO)
    after = (token.key for place in denied for token in _just_after(place, reading))
    return any(key in own and not is_of_dose(key) for key in after)


def _just_after(place: int, reading: Reading) -> Iterator[Token]:
    """The next words of the same part, until something is begun."""
    for token in reading.tokens[place + 1 : place + NEAR]:
        if token.segment != reading.tokens[place].segment or token.key in BEGUN:
            return
        yield token


def is_allowed(answer: Answer, reading: Reading, index: StepIndex, *, is_clear: bool) -> bool:
    """Whether the step that leads an answer may be what its words ask for.

    No side is in doubt, no other step is named by them (word for word where they are clear), and a
    treatment is named, if only by its drug, and not to be stopped. One that gives nothing need not
    be named where the words are clear.
    """
    top = answer.top
    if not top.said.techniques:
        return False
    if _is_named_otherwise(answer, reading, index, is_clear=is_clear):
        return False
    if index.steps[top.slug].method is not Method.TREAT:
        return not top.doubts
    is_told = _is_told_to_give(answer, reading, index) or (is_clear and _is_no_drug(top, reading))
    is_named = is_undoubted(top, index) or is_told
    return is_named and not is_stopped(answer, reading, index)


def _is_no_drug(top: Candidate, reading: Reading) -> bool:
    """Whether a treatment gives nothing (*onto his side*), and is not only asked about."""
    return not top.slug.startswith(GIVEN) and not top.doubts and not is_question(reading)


def _is_named_otherwise(
    answer: Answer, reading: Reading, index: StepIndex, *, is_clear: bool
) -> bool:
    if not is_clear:
        return any(one.is_literal for one in answer.rivals)
    said = tuple(reading.tokens[place].key for place in answer.group.places)
    named = index.word_for_word.get(said, ())
    return bool(named) and index.number[answer.top.slug] not in named


def _is_told_to_give(answer: Answer, reading: Reading, index: StepIndex) -> bool:
    """Whether a word that only this treatment goes by was said as it is written, in no question."""
    said = [reading.tokens[place] for place in answer.group.places]
    drugs = [token for token in said if token.key in index.drug_keys]
    own = index.entries[index.number[answer.top.slug]].named_by
    are_own = all(token.key in own and not token.corrected for token in drugs)
    return bool(drugs) and are_own and not is_question(reading)
