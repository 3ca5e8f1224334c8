"""What each word of a group is worth to a step, and what its verbs and technique say for it."""

from __future__ import annotations

from casebank.domain.examination.doses import is_of_dose, reason_places
from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import COMPATIBLE, CUES, KEPT, STRONG_METHODS, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.stepindex import Entry, StepIndex, StepPhrase
from casebank.domain.examination.technique import Said
from casebank.domain.examination.tokens import Reading

FIT = 0.5
"""What a word is worth that only stands in the step's description."""
MANNER = 0.4
"""What a word is worth that tells a manner which the step does not take."""
PLACES = frozenset({"site", "side"})
POINTING = frozenset({"site", "instrument", "breathing", "side"})
"""Slots whose values can point to a step that was not named; how the patient sits cannot."""
NAMED = 0.8
"""What a word is worth that names the step elsewhere than in the phrase that fits best."""
CORRECTED = 0.85
"""What is left of the worth of a word whose spelling was corrected."""
REPEATED = 0.5
"""What is left of the worth of a word said again, which mostly begins another request."""
UNORDERED = 0.85
"""What is left of the score of a treatment that no verb orders."""
AGAINST, ASIDE, ACT = 0.75, 0.95, 0.5
"""What is left where the verb names another method: plainly, where the step is also named by such
a verb, and where one of the two is to ask or to treat."""


def worths(
    reading: Reading,
    group: Group,
    entry: Entry,
    phrase: StepPhrase | None,
    said: Said,
    *,
    is_named: bool,
) -> dict[int, float]:
    """Place of each counting word to its worth, 0-1; the words of a dose of a named drug do not
    count, nor what a named drug or test is for."""
    found = {}
    seen: dict[str, int] = {}
    manner = {p for match in group.matches if match.slot not in PLACES for p in match.places}
    is_dosed = is_named and entry.step.method is Method.TREAT
    is_ordered = is_named and entry.step.method in (Method.TREAT, Method.INVESTIGATION)
    reasons = reason_places(reading.tokens, group.content) if is_ordered else frozenset()
    for place in group.content:
        key = reading.tokens[place].key
        is_told = place in said.places or bool(phrase and key in phrase.keys)
        otherwise = MANNER if place in manner else 0.0
        worth = 1.0 if is_told else _worth(key, entry, phrase, otherwise)
        if worth < 1 and (place in reasons or (is_dosed and not worth and is_of_dose(key))):
            continue
        if key in seen and key not in VERBS and key not in KEPT:
            worth *= _worth_again(key, seen[key], phrase)
        seen[key] = seen.get(key, 0) + 1
        found[place] = worth * (CORRECTED if reading.tokens[place].corrected else 1.0)
    return found


def _worth(key: str, entry: Entry, phrase: StepPhrase | None, otherwise: float) -> float:
    """A word's worth for a step whose phrase and technique do not hold it."""
    if key in VERBS:
        return _verb_worth(key, entry, phrase)
    if key in entry.named_by:
        return NAMED
    if key in CUES:
        return NAMED if entry.step.method in COMPATIBLE[CUES[key]] else 0.0
    return FIT if key in entry.fits or key in KEPT else otherwise


def _worth_again(key: str, times: int, phrase: StepPhrase | None) -> float:
    """What is left of a word's worth when it is said again: the name may say it so, too."""
    return 1.0 if phrase and f"{key}*{times + 1}" in phrase.keys else REPEATED


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
    if not any(slot in POINTING for slot, _ in values):
        return 0.0
    told = sum(index.rarity(value) for value in values)
    most = 0.75 + 0.03 * max(0, len(values) - 2)
    return min(most, told + 0.25 * suits(entry.step.method, group.methods))


def words_beyond(reading: Reading, said: Said, phrase: StepPhrase | None) -> int:
    """How many words tell the technique and do not also name the step."""
    named = phrase.keys if phrase else frozenset()
    return sum(reading.tokens[place].key not in named for place in said.places)
