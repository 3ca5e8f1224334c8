"""Reads a text as a change to the request before: *again*, *now sitting up*, *the other side*."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import (
    COMPATIBLE,
    EMPTY,
    FOLLOW_MARKERS,
    GOING_ON,
    KEPT,
    NEGATORS,
    OTHER_SIDE,
    POINTERS,
    STRONG_METHODS,
    SWAPPED,
    VERBS,
)
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.resolution import Earlier
from casebank.domain.examination.scoring import Candidate
from casebank.domain.examination.stems import key_of
from casebank.domain.examination.stepindex import Entry, StepIndex
from casebank.domain.examination.technique import Said, technique_said
from casebank.domain.examination.tokens import AND, COMMA, THEN, Reading

MARKED, SPOKEN, BARE = 1.6, 1.4, 0.94
"""Scores of a follow-up that says so (beats every name), of one by its grammar (beats all but a
name word for word), and of one by its bare technique."""
MARKED_LOOSELY, POINTED, LOOSE = 1.3, 1.05, 0.8
"""The same, times the share of the words that it explains, where others are left over: with a
word such as *again*, with one that points back (*there*) beside technique, and with neither."""
_OPENINGS = frozenset(
    {"now", "with", "using", "in", "on", "at", "from", "while", "for", "and", "during"}
)
LONGEST = 12
"""Most words of a text that may leave something out."""
ONE = key_of("one")
"""*The left one too* counts nothing."""
_FLIP = {"left": "right", "right": "left"}


def may_lean(reading: Reading, matches: Iterable[Match]) -> bool:
    """Whether any request before could change how this is read.

    It could where a word says so (*again*), where one is denied, or where a part of the sentence
    is nothing but technique. Says True rather too often; never False where ``follow_up`` answers.
    """
    if leans_back(reading):
        return True
    if any(token.key in FOLLOW_MARKERS or token.key in NEGATORS for token in reading.tokens):
        return True
    told = {place for match in matches for place in match.places}
    of_its_own = {
        token.segment
        for place, token in enumerate(reading.tokens)
        if place not in told and token.key not in EMPTY and not _is_passed_over(token.key)
    }
    return any(token.segment not in of_its_own for token in reading.tokens)


def leans_back(reading: Reading) -> bool:
    """Whether a text may leave out what the request before said."""
    if not reading.tokens or len(reading.words) > LONGEST:
        return False
    return points_back(reading) or _goes_on(reading)


def points_back(reading: Reading) -> bool:
    """Whether a word points to what was done before: *again*, *there*."""
    return any(token.key in POINTERS or token.key in FOLLOW_MARKERS for token in reading.tokens)


def _goes_on(reading: Reading) -> bool:
    """Whether a text begins as one that goes on from another: *and*, *then*, *now*."""
    first = reading.tokens[0]
    return first.key in GOING_ON or reading.breaks[first.segment] in (AND, THEN, COMMA)


def _is_passed_over(key: str) -> bool:
    return key in KEPT or key in VERBS or key in POINTERS or key == ONE


def follow_up(
    reading: Reading, group: Group, index: StepIndex, previous: Earlier | None
) -> Candidate | None:
    """The earlier request changed by this group, or None where the group asks for its own step."""
    if previous is None or previous.step not in index.number:
        return None
    entry = index.entries[index.number[previous.step]]
    keys = {reading.tokens[place].key for place in group.places}
    markers = keys & FOLLOW_MARKERS
    said = technique_said(reading, group.matches, entry.takes)
    is_pointed = leans_back(reading)
    rest = _unexplained(reading, group, entry, said, is_pointed or bool(markers))
    if rest and not (is_pointed or markers):
        return None
    if not (said.values or markers) or not _is_method_kept(entry, group):
        return None
    if not markers and _is_request_of_its_own(entry, group, said):
        return None
    left = _share(reading, rest, group, index)
    score = _score(reading, markers) if not rest else _vague(keys, said) * (1 - left)
    return _candidate(reading, group, entry, said, previous, rest, left, score)


def changed_by(reading: Reading, group: Group, index: StepIndex, previous: Earlier) -> Candidate:
    """The earlier request changed by all that this group says of its technique, whatever else it
    says; ``previous`` is of the catalogue."""
    entry = index.entries[index.number[previous.step]]
    said = technique_said(reading, group.matches, entry.takes)
    rest = _unexplained(reading, group, entry, said, is_marked=True)
    left = _share(reading, rest, group, index)
    return _candidate(reading, group, entry, said, previous, rest, left, MARKED)


def _candidate(
    reading: Reading, group: Group, entry: Entry, said: Said, previous: Earlier,
    rest: Sequence[int], left: float, score: float,
) -> Candidate:  # fmt: skip
    """The earlier request with what was said changed; ``left`` is the share not explained, that
    of the words at the places ``rest``."""
    keys = {reading.tokens[place].key for place in group.places if place not in said.places}
    is_other = bool(keys & OTHER_SIDE) or (bool(keys & SWAPPED) and not said.values)
    changed = _changed(entry, previous.technique, said, is_other)
    return Candidate(
        previous.step,
        score,
        0.0,
        1 - left,
        Said(changed, said.places, said.values),
        frozenset(set(group.content) - set(rest)) | said.places,
        is_literal=False,
        inherits=True,
        doubts=() if len(changed) == 1 or said.values else ("side",),
    )


def _share(reading: Reading, places: list[int], group: Group, index: StepIndex) -> float:
    """The share, by weight, that the words at these places have of the group's."""
    weight = sum(index.weight(reading.tokens[place].key) for place in places)
    return weight / group.weight if weight else 0.0


def _vague(keys: set[str], said: Said) -> float:
    """Score of a follow-up that also says what the request before does not explain."""
    if keys & FOLLOW_MARKERS:
        return MARKED_LOOSELY
    return POINTED if keys & POINTERS and said.values else LOOSE


def _unexplained(
    reading: Reading, group: Group, entry: Entry, said: Said, is_marked: bool
) -> list[int]:
    known = entry.named_by | entry.fits | {"side"} if is_marked else frozenset()
    return [
        place
        for place in group.content
        if place not in said.places
        and reading.tokens[place].key not in known
        and not _is_passed_over(reading.tokens[place].key)
    ]


def _is_method_kept(entry: Entry, group: Group) -> bool:
    strong = group.methods & STRONG_METHODS
    return not strong or any(entry.step.method in COMPATIBLE[method] for method in strong)


def _is_request_of_its_own(entry: Entry, group: Group, said: Said) -> bool:
    """A verb with a place is a new request of the same kind: nothing is carried over."""
    return bool(group.methods) and any("site" in technique for technique in said.techniques)


def _changed(
    entry: Entry, before: Mapping[str, str], said: Said, is_other_side: bool
) -> tuple[dict[str, str], ...]:
    kept = {slot: value for slot, value in before.items() if (slot, value) in entry.takes}
    changed = tuple({**kept, **technique} for technique in said.techniques)
    if not is_other_side or any("side" in technique for technique in said.techniques):
        return changed
    return tuple(one for technique in changed for one in _flipped(entry, technique))


def _flipped(entry: Entry, technique: dict[str, str]) -> list[dict[str, str]]:
    """The technique on the other side; both sides, to choose from, where none was known."""
    now = entry.step.full_technique(technique).get("side", "")
    if now in _FLIP and ("side", _FLIP[now]) in entry.takes:
        return [{**technique, "side": _FLIP[now]}]
    if now:
        return [{**technique, "side": side} for side in _FLIP if ("side", side) in entry.takes]
    site = technique.get("site", "")
    for side, other in _FLIP.items():
        mirrored = site.replace(side, other)
        if side in site.split("-") and ("site", mirrored) in entry.takes:
            return [{**technique, "site": mirrored}]
    return []


def _score(reading: Reading, markers: set[str]) -> float:
    if markers:
        return MARKED
    words = [word.lower() for word in reading.words]
    is_spoken = words[0] in _OPENINGS or any(word.endswith("ing") for word in words)
    return SPOKEN if is_spoken else BARE
