"""Takes the technique of one step out of what was said: which values, in which of the requests.

Owns laterality: a side is taken only where the word is free to mean one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from casebank.domain.examination.lexicon import CORRECTIONS, EMPTY, IDIOMS_AFTER_SIDE, SIDE_WORDS
from casebank.domain.examination.phrases import Match, Value
from casebank.domain.examination.stems import key_of, keys_in
from casebank.domain.examination.tokens import JOINS, STOP, THEN, Reading

_LEVELS = frozenset({"upper", "lower", "mid"})
_RELAXING = key_of("relaxing")
_GENERAL = frozenset({"supine", "sitting", "deep", "quiet", "inspiration", "eye"})
"""Values that a more special one said beside them replaces: *lying down, legs raised*."""

_WHOLES: dict[frozenset[Value], dict[str, str]] = {
    frozenset({("side", "left"), ("side", "right")}): {"side": "both"},
    frozenset({("site", "upper-face"), ("site", "lower-face")}): {},
}
"""Parts that make a whole: both sides, and the face, which is meant where nothing is said."""
_TAKEN, _SPEAKER = frozenset({"lie", "sit", "stand"}), frozenset({"i", "im"})
_MOVED = frozenset({"him", "her", "them", "you", "the", "patient"})
"""Postures one takes or puts someone in, who may take them, and who is put in them."""
_LYING = keys_in("lie roll turn swing flip asleep sleep curl")
_ON, FAR = frozenset({"on", "onto"}), 6
"""How one comes to lie on a side, in so many words before it."""
BESIDE = 2
"""Left and right at most so many words apart, *left, then right*, are said of one thing."""


@dataclass(frozen=True)
class Said:
    """Techniques said (several when values were listed), tokens used, and doubts about a side."""

    techniques: tuple[dict[str, str], ...]
    places: frozenset[int]
    values: int
    is_side_doubtful: bool = False


def technique_said(
    reading: Reading,
    matches: Iterable[Match],
    takes: frozenset[Value],
    name: frozenset[str] = frozenset(),
) -> Said:
    """The values among ``matches`` (longest first) that a step taking ``takes`` was told.

    In ``name``, the step's name said in full, *relaxing* is no effort (*slow relaxing jerk*).
    """
    taken = [match for match in matches if match.value in takes]
    if not taken:
        return Said(({},), frozenset(), 0)
    chosen: list[Match] = []
    used: set[int] = set()
    claimed = claimed_sides(reading) if any(m.slot == "side" for m in taken) else set()
    for match in taken:
        if used.intersection(match.places):
            continue
        if _RELAXING in name and {reading.tokens[p].key for p in match.places} == {_RELAXING}:
            continue
        if match.slot == "posture" and _is_of_speaker(match, reading):
            continue
        if match.slot == "side" and claimed.intersection(match.places):
            continue
        used.update(match.places)
        chosen.append(match)
    kept = _without_overruled(without_corrected(chosen, reading), reading)
    techniques, are_close = _requests(kept, reading), _are_sides_close(kept)
    if are_close:
        techniques = _with_parts_joined(techniques, takes)
    return Said(
        tuple(techniques),
        frozenset(used),
        len({match.value for match in kept}),
        not are_close or _are_sides_mixed(kept, reading),
    )


def _is_of_speaker(match: Match, reading: Reading) -> bool:
    """Whether a posture is the examiner's own: *I'm standing behind you*, *lay my hand on it*."""
    said, first = [token.key for token in reading.tokens], match.places[0]
    after = said[first + 1 : first + 5]
    is_hand = said[first] == "lie" and "my" in after
    is_own = "behind" in after[:1] or said[max(0, first - 1)] in _SPEAKER
    return is_hand or (is_own and said[first] in _TAKEN and _MOVED.isdisjoint(after[:1]))


def claimed_sides(reading: Reading) -> set[int]:
    """Places of left and right that belong to a fixed place such as *left lower sternal edge*, or
    tell on which side the patient lies."""
    content = [place for place, token in enumerate(reading.tokens) if token.key not in EMPTY]
    claimed = set()
    for number, place in enumerate(content):
        token = reading.tokens[place]
        after = [reading.tokens[p] for p in content[number + 1 : number + 3]]
        following = [one.key for one in after if one.segment == token.segment]
        if following[:1] and following[0] in _LEVELS:
            following = following[1:]
        if token.key in SIDE_WORDS and following[:1] and following[0] in IDIOMS_AFTER_SIDE:
            claimed.add(place)
        if token.key in SIDE_WORDS and _is_lain_on(place, reading):
            claimed.add(place)
    return claimed


def _is_lain_on(place: int, reading: Reading) -> bool:
    """Whether someone lies on the side named: *asleep on her right side*, not *on the right side of
    the chest*."""
    keys = [token.key for token in reading.tokens]
    before = keys[max(0, place - FAR) : place]
    verbs = [number for number, key in enumerate(before) if key in _LYING]
    is_on = bool(verbs) and not _ON.isdisjoint(before[verbs[-1] :])
    return (
        is_on and keys[place + 1 : place + 2] == ["side"] and keys[place + 2 : place + 3] != ["of"]
    )


def without_corrected(chosen: Sequence[Match], reading: Reading) -> list[Match]:
    """Without values that the speaker took back: *the right, no, the left kidney*."""
    taken_back = [p for p, token in enumerate(reading.tokens) if token.key in CORRECTIONS]
    if not taken_back:
        return list(chosen)
    return [
        match
        for match in chosen
        if not any(_is_taken_back(match, other, taken_back) for other in chosen)
    ]


def _is_taken_back(match: Match, other: Match, places: Sequence[int]) -> bool:
    if other.slot != match.slot or other.value == match.value:
        return False
    return any(match.places[-1] < place < other.places[0] for place in places)


def _are_sides_close(kept: Sequence[Match]) -> bool:
    """Whether left and right, if both are said, stand beside each other: *left, then right knee*.

    Far apart the one may be what the other is compared with, and must be asked about.
    """
    sides = [match for match in kept if match.slot == "side" and match.value[1] != "both"]
    return all(
        two.places[0] - one.places[-1] <= BESIDE
        for one, two in pairwise(sides)
        if one.value != two.value
    )


def _with_parts_joined(
    techniques: list[dict[str, str]], takes: frozenset[Value]
) -> list[dict[str, str]]:
    """Left and then right, and nothing else between them, is both sides where these are taken."""
    if len(techniques) != 2:
        return techniques
    one, two = techniques
    whole = _WHOLES.get(frozenset(one.items() ^ two.items()))
    if whole is None or not takes.issuperset(whole.items()):
        return techniques
    return [{**{slot: value for slot, value in one.items() if two.get(slot) == value}, **whole}]


def _without_overruled(chosen: Sequence[Match], reading: Reading) -> list[Match]:
    ordered = sorted(chosen, key=lambda match: match.places)
    return [
        match
        for match in ordered
        if not any(_overrules(other, match, reading) for other in ordered if other is not match)
    ]


def _overrules(other: Match, match: Match, reading: Reading) -> bool:
    """Whether ``other`` says the same slot more exactly in the same breath."""
    if other.slot != match.slot or other.value == match.value or match.slot == "side":
        return False
    special, general = other.value[1], match.value[1]
    if special.startswith(f"{general}-"):
        return True
    if _is_listed(other, match, reading):
        return False
    if general in _GENERAL and special not in _GENERAL:
        return True
    return _segment(other, reading) == _segment(match, reading) and _rank(other) < _rank(match)


def _rank(match: Match) -> tuple[bool, float, tuple[int, ...]]:
    return (match.value[1] in _GENERAL, -match.weight, match.places)


def _is_listed(one: Match, two: Match, reading: Reading) -> bool:
    low, high = sorted((_segment(one, reading), _segment(two, reading)))
    return any(kind in (*JOINS, STOP, THEN) for kind in reading.breaks[low + 1 : high + 1])


def _segment(match: Match, reading: Reading) -> int:
    return reading.tokens[match.places[0]].segment


def _requests(kept: Sequence[Match], reading: Reading) -> list[dict[str, str]]:
    """One technique, or one more each time a slot is given another value."""
    current: dict[str, str] = {}
    done: list[dict[str, str]] = []
    last_segment = -1
    for match in kept:
        slot, value = match.value
        segment = _segment(match, reading)
        if slot in current and current[slot] != value and segment != last_segment:
            done.append(dict(current))
        if slot not in current and done and segment == last_segment:
            current[slot] = value
            continue
        current[slot] = value
        last_segment = segment
    return _spread([*done, dict(current)])


def _spread(techniques: list[dict[str, str]]) -> list[dict[str, str]]:
    """What was said after the list holds for the whole list: *apex and base, sitting up*."""
    last = techniques[-1]
    spread = [{**last, **technique} for technique in techniques]
    return [one for place, one in enumerate(spread) if one not in spread[:place]]


def _are_sides_mixed(kept: Sequence[Match], reading: Reading) -> bool:
    sides: dict[int, set[str]] = {}
    for match in kept:
        if match.slot == "side":
            sides.setdefault(_segment(match, reading), set()).add(match.value[1])
    return any(len(values) > 1 for values in sides.values())
