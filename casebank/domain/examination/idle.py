"""The turns of speech that say no side, no denial and no request, with what is left of them.

Owns the table. When it is used is ``cleaning``'s.
"""

from __future__ import annotations

import re
from functools import lru_cache

from casebank.domain.examination.nosides import NO_SIDES
from casebank.domain.examination.sidespeech import SIDES

_SIDE = r"(?:left|right)"
_OWNER = r"(?:the |this |my |your |his |her |their )?"
_PATIENT = r"(?:patient|him|her|them|you|mr \w+|mrs \w+|man|woman|lady|gentleman)"
_TO_SIDE = rf"(?:slightly |a little |a bit |away )*(?:to |towards? )?{_OWNER}{_SIDE}(?: side)?\b"
_HEAD = r"(?:head|face|chin|neck)"
_NO_VERTIGO = r"(?!.*(?:nystagm|dizz|vertigo|giddi|hanging|spin))"
"""The side to which the head is turned is idle, but where it is laid back to bring on vertigo."""
_AFTER_IDLE_RIGHT = (
    r"i|id|ill|im|lets?|can|could|may|we|so|now|then|please|next|going|first|listen|auscultate|"
    r"feel|palpate|look|inspect|check|measure|take|ask|give|count|percuss|examine"
)
_QUESTION = r"(?:(?:how|when|where|why|what|how long|how often|how many) )?"

_PLEASANT = r"(?:a )?(?:sensible|good|useful|wise|helpful|nice|worthwhile|interesting|best)"

IDLE: tuple[tuple[str, str, str], ...] = (
    ("teh|hte", r"\b(?:teh|hte)\b", "the"),
    ("opi|drug|heroin", r"\b(opiate|opioid|drug|heroin)s? OD\b", r"\1 overdose"),
    (
        "right ba|right bent|right for",
        r"\b(elbows?|wrists?|knees?|heads?|arms?|shoulders?|chin|fingers) right (?=back|bent|forw)",
        r"\1 ",
    ),
    (
        " heel ",
        rf"\b({_SIDE}) heel (\w+) {_OWNER}{_SIDE} (?=shin|knee)",
        r"\1 heel \2 ",
    ),
    (" hand on ", rf"\b({_SIDE}) hand on {_OWNER}{_SIDE}\b", r"\1 hand on the other"),
    *(
        (
            " eye ",
            (rf"\b(?:with )?{_OWNER}{covered} eye (?:shut|closed|covered)\b"),
            f" with the {tested} eye ",
        )
        for covered, tested in (("left", "right"), ("right", "left"))
    ),
    *(
        (
            "cover",
            (
                rf"\bcover(?:ing)? (?:up )?{_OWNER}{covered}(?: eye)?\b"
                r"(?=.*\b(?:read|letters?|lowest|chart|line|disappears?|vanishe?s?)\b)"
            ),
            f" with the {tested} eye ",
        )
        for covered, tested in (("left", "right"), ("right", "left"))
    ),
    ("adn|nad", r"\b(?:adn|nad)\b", "and"),
    (
        "how long|since when|how often",
        r"\b(?=for how long\b|since when\b|how often\b|how long (?:have|has|did|were|was)\b)",
        "ask ",
    ),
    ("s been", r"\b(who|what|how|where)s been\b", r"\1 has been"),
    ("whos|whats|hows|wheres|whens", r"\b(who|what|how|where|when)s\b", r"\1 is"),
    ("forty", r"\bforty[ -]?five\b", "45"),
    ("twenty", r"\btwenty[ -]?four\b", "24"),
    ("because", r"\bbecause\b[^,.;?]*", " "),
    ("in case", r"\b(?:just )?in case\b[^,.;?]*", " "),
    (
        "think|guess|suppose|reckon|believe",
        (
            r"\b(?:i|we|id|ill|lets|let me|let us|hm+)(?: (?:do|would|just|also|now))? "
            r"(?:think|guess|suppose|reckon|believe)\b(?: that)?"
        ),
        " ",
    ),
    (" be ", rf"\b(?:would|might|could|will|may) be {_PLEASANT}\b(?: to)?(?: now)?", " "),
    ("at this ", r"\bat this (?:point|stage|time)\b", " "),
    ("for me", r"(?<=\w) for me\b", " "),
    (",", r"(?<=\d),(?=\d{3}\b)", ""),
    (
        "0|1|2|3|4|5|6|7|8|9",
        r"\b(\d+(?:\.\d+)?)\s?l\b(?=\s*(?:/|per|a|of|min|o2|oxygen|$))",
        r"\1 litres",
    ),
    (".g|i.e|etc|ie|eg", r"\be\.?g\.|\bi\.?e\.|\betc\b\.?", " "),
    (
        "right",
        r"\ball right\b|\balright\b|\bthats right\b|\bis right\b(?=\s*[?.]|$)",
        " ",
    ),
    (
        "right |whats left",
        r"\bright (?=now\b|away\b|then\b(?! (?:the )?left)|so\b|ok)|\bwhats left\b",
        " ",
    ),
    (
        "right",
        (
            r"^\W*(?:(?:ok|okay|so|well|um|er|now|good|yes|hmm)\W+)*right\b"
            rf"(?=\s*[,.:;!-]|\s+(?:{_AFTER_IDLE_RIGHT})\b)"
        ),
        " ",
    ),
    (
        "left|right",
        (
            rf"\b(?:with |using )?(?:my|the examining|the examiners?) {_SIDE} "
            r"(?=hand|thumb|finger|ear|palm)"
        ),
        " ",
    ),
    (
        "left|right",
        (
            rf"\b(?:from|at|on|to|standing on|stand on|standing at) {_OWNER}(?:patients? )?{_SIDE}"
            r"(?: hand)?(?: side)? (?:side )?of the (?:bed|couch|patient)"
        ),
        " ",
    ),
    (
        "left|right",
        (
            rf"\b(?:left|right) (\w+ )?(?:compared? (?:to|with)|versus|vs|against) (?!my)"
            rf"{_OWNER}(?:left|right)\b"
        ),
        r"both \1",
    ),
    (
        "left|right",
        (
            r"\b(?:approach\w*|stand\w*|kneel\w*|position\w* myself) (?:from|on|at|to) "
            rf"{_OWNER}(?:patients? )?{_SIDE}(?: hand)?(?: side)?\b(?! (?:leg|foot))"
        ),
        " ",
    ),
    ("look", rf"\blook(?:s|ing)? (?:to|towards?|over to) {_OWNER}{_SIDE}(?: side)?\b", " look "),
    (
        "left|right",
        (
            r"\b(deviat\w*|pushed|pulled|shift\w*|displaced|lateralis\w*|points?|pointing) "
            rf"(?:over )?(?:to |towards? )?{_OWNER}(?:{_SIDE} or )?{_SIDE}\b(?: side)?"
            r"(?! (?:big )?(?:thumb|toes?|fingers?|foot|index|hand|arm)\b)"
        ),
        r"\1",
    ),
    (
        "hand",
        rf"\b(?:with|using|use) (?:the|one) {_SIDE} hand (?=behind|under|on|support|stead)",
        " ",
    ),
    (
        "left|right",
        (
            rf"\b(?:just |to |on )*(?:the )?{_SIDE} of "
            rf"(?=(?:the )?(?:umbilicus|navel|belly button|sternum|breastbone|midline)\b)"
        ),
        " beside ",
    ),
    (
        "right",
        (
            r"\bthe right (?=position|place|way|order|drug|dose|patient|person|time|thing|size|"
            r"test|answer|equipment|moment)"
        ),
        "the ",
    ),
    ("left to", r"\b(?:is |are |whats )?left to (?=do|examine|check|test|ask)", " "),
    (
        "left|right",
        (
            rf"\b{_HEAD}(?: is| are)?(?: turned| rotated| tilted| looking| turning)+ {_TO_SIDE}"
            rf"{_NO_VERTIGO}"
        ),
        " ",
    ),
    ("left|right", rf"\bturn(?:ing|ed)? {_OWNER}{_HEAD} {_TO_SIDE}{_NO_VERTIGO}", " "),
    (
        " vs | v | versus | compared",
        r"\b(?:l|r) (?:vs|v|versus|compared (?:to|with)) (?:l|r)\b",
        " each ",
    ),
    ("handed", rf"\b{_SIDE}[ -]?handed\b", " "),
    ("why |wy ", r"\bwh?y (?:dont|not|shouldnt|couldnt|cant) (?:we|you|i)\b", " "),
    (
        "mind",
        r"\b(?:if you |would you |do you )?(?:dont|wouldnt|not) mind\b(?: if i)?",
        " ",
    ),
    ("would you mind", r"\bwould you mind if i\b", " "),
    ("this time", r"\bthis time\b", " instead "),
    (" for", r"\b(?:have a )?look(?:ing)? (?:out )?for\b", " "),
    ("forget|not only", r"\bdont forget to\b|\bnot only\b", " "),
    (
        "no need|rather than|instead of",
        r"\bno need (?:to|for)\b|\brather than\b|\binstead of\b",
        " not ",
    ),
    ("nt ", r"\b(?:cant|couldnt|shouldnt|wont|wouldnt) (?:we|you|i)\b", " "),
    (
        " no",
        (
            r"\b(?:make sure|check|ensure|see)(?: that)? "
            r"(?:there is|there are|theres|there be) no\b"
        ),
        " ",
    ),
    (
        " to",
        rf"\b(?:ask|get|tell|have|instruct|want|asking|getting|with) {_OWNER}{_PATIENT} to\b",
        " ",
    ),
    (
        " you",
        (
            rf"(?:^|(?<=[,.;?] ))(?={_QUESTION}"
            r"(?:do|does|have|are|did|were|had|is|was|has|are there|when did) your?\b)"
        ),
        "ask ",
    ),
    (
        "follow|well as|along|together|after that|and then",
        r"\b(?:followed by|as well as|along with|together with|after that|and then)\b",
        " then ",
    ),
    (
        "pulse",
        (
            r"\bpulse( rate| rhythm)? (?:at|in|on|over) "
            rf"{_OWNER}((?:left|right|both) )?wrists?\b"
        ),
        r"\2radial pulse\1",
    ),
    (
        "right ",
        (
            r"(?<!the )(?<!and )(?<!then )\bright "
            r"(?=(?:up|out|in|down|round|over|through|under|across|along|behind|into|onto)\b)"
        ),
        " ",
    ),
    (
        "each ",
        (
            r"\beach (?=(?:\w+ )?(?:other|times?|quadrants?|fingers?|toes?|joints?|of|one|words?|"
            r"steps?|breath|breaths|nails?|zones?|areas?|regions?|levels?|places?|points?)\b)"
        ),
        "every ",
    ),
    ("the l ", r"\bthe l (?=in|of)\b", " "),
    ("r/o", r"\br/o\b", " rule out "),
    ("thoscope", r"\bst[ae]thoscope\b", "stethoscope"),
)
SPOKEN = tuple(
    (tuple(needs.split("|")), re.compile(pattern, re.IGNORECASE), by)
    for needs, pattern, by in (*SIDES, *NO_SIDES, *IDLE)
)
"""Idle speech: what a text must hold for the pattern to be worth trying, the pattern, its place."""


Trigger = tuple[str, re.Pattern[str]]


@lru_cache(maxsize=20_000)
def _triggers(word: str) -> tuple[Trigger, ...]:
    """The idle speech that a word may be part of."""
    return tuple(
        (need, pattern) for needs, pattern, _ in SPOKEN for need in needs if _may_begin(need, word)
    )


def _may_begin(need: str, word: str) -> bool:
    """Whether a text of this word may hold what is needed: over a space, if that begins so."""
    first, space, _ = need.lstrip().partition(" ")
    return word.endswith(first) if space else first in word


def is_idle_in(words: list[str], low: str) -> bool:
    """Whether there is idle speech in a text of these words, all small letters."""
    for word in words:
        for need, pattern in _triggers(word):
            if need in low and pattern.search(low):
                return True
    return False
