"""What each word of a group is worth to a step, and what its verbs and technique say for it."""

from __future__ import annotations

from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import COMPATIBLE, KEPT, STRONG_METHODS, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.stepindex import Entry, StepIndex, StepPhrase
from casebank.domain.examination.technique import Said
from casebank.domain.examination.tokens import Reading

FIT = 0.5
"""What a word is worth that only stands in the step's description."""
NAMED = 0.8
"""What a word is worth that names the step elsewhere than in the phrase that fits best."""
CORRECTED = 0.85
"""What is left of the worth of a word whose spelling was corrected."""
UNORDERED = 0.85
"""What is left of the score of a treatment that no verb orders."""
AGAINST, ASIDE, ACT = 0.75, 0.95, 0.5
"""What is left where the verb names another method: plainly, where the step is also named by such
a verb, and where one of the two is to ask or to treat."""


def worths(
    reading: Reading, group: Group, entry: Entry, phrase: StepPhrase | None, said: Said
) -> dict[int, float]:
    """Place of each counting word to its worth, 0-1."""
    found = {}
    for place in group.content:
        key = reading.tokens[place].key
        worth = 0.0
        if place in said.places or (phrase and key in phrase.keys):
            worth = 1.0
        elif key in VERBS:
            worth = _verb_worth(key, entry, phrase)
        elif key in entry.named_by:
            worth = NAMED
        elif key in entry.fits or key in KEPT:
            worth = FIT
        found[place] = worth * (CORRECTED if reading.tokens[place].corrected else 1.0)
    return found


def _verb_worth(key: str, entry: Entry, phrase: StepPhrase | None) -> float:
    if phrase and key in phrase.verbs:
        return 1.0
    if entry.step.method in COMPATIBLE[VERBS[key]]:
        return 1.0 if entry.step.method is VERBS[key] else 0.9
    return FIT if key in entry.named_by else 0.0


def suits(method: Method, methods: frozenset[Method]) -> float:
    """1 where a verb names this very method, 0.5 where it is compatible, 0 otherwise."""
    if method in methods:
        return 1.0
    return 0.5 if any(method in COMPATIBLE[said] for said in methods) else 0.0


def method_factor(entry: Entry, phrase: StepPhrase | None, methods: frozenset[Method]) -> float:
    """What the verbs leave of a step's score: 1 where its method is, or may be, theirs."""
    strong = methods & STRONG_METHODS
    method = entry.step.method
    if method is Method.TREAT and method not in methods:
        return ACT if strong else UNORDERED
    if not strong or any(method in COMPATIBLE[said] for said in methods):
        return 1.0
    if phrase and any(
        VERBS[verb] in strong for verb in phrase.verbs | phrase.keys if verb in VERBS
    ):
        return 1.0
    if strong & {Method.TREAT, Method.ASK}:
        return ACT
    if any(VERBS[verb] in strong for verb in entry.named_by if verb in VERBS):
        return ASIDE
    return AGAINST


def pointed_to(entry: Entry, group: Group, said: Said, index: StepIndex) -> float:
    """0-0.75: how much the technique alone points here; a value few steps take tells more."""
    values = {value for technique in said.techniques for value in technique.items()}
    if not values:
        return 0.0
    told = sum(index.rarity(value) for value in values)
    return min(0.75, told + 0.25 * suits(entry.step.method, group.methods))


def words_beyond(reading: Reading, said: Said, phrase: StepPhrase | None) -> int:
    """How many words tell the technique and do not also name the step."""
    named = phrase.keys if phrase else frozenset()
    return sum(reading.tokens[place].key not in named for place in said.places)
