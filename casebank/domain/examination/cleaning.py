"""Evens out ways of writing, and removes idle speech, before a text is cut into words.

Idle uses of *right* and *left*, polite negations and stage directions to the patient say no side,
no denial and no request: they are gone before anything is compared.
"""

from __future__ import annotations

import re

_ALWAYS = (
    (re.compile(r"\bUS\b"), "ultrasound"),
    (re.compile(r"[’‘`´]"), "'"),
    (re.compile(r"(?<=\w)'(?=\w)"), ""),
    (re.compile(r"°|º"), " degrees "),
    (re.compile(r"(\d)\.(?=\d)"), r"\1point"),
    (re.compile(r"\b[xX][ -][rR]ay(?=s?\b)"), "xray"),
)
"""Ways of writing, evened out in the catalogue's texts and in the student's."""
_NEEDS_EVENING = re.compile(r"[’‘`´'°º]|US|\d\.|[xX][ -][rR]ay")

_SIDE = r"(?:left|right)"
_OWNER = r"(?:the |this |my |your |his |her |their )?"
_PATIENT = r"(?:patient|him|her|them|you|mr \w+|mrs \w+|man|woman|lady|gentleman)"
_TO_SIDE = rf"(?:slightly |a little |a bit |away )*(?:to |towards? )?{_OWNER}{_SIDE}(?: side)?\b"
_HEAD = r"(?:head|face|chin|neck)"
_AFTER_IDLE_RIGHT = (
    r"i|id|ill|im|lets?|can|could|may|we|so|now|then|please|next|going|first|listen|auscultate|"
    r"feel|palpate|look|inspect|check|measure|take|ask|give|count|percuss|examine"
)
_QUESTION = r"(?:(?:how|when|where|why|what|how long|how often|how many) )?"

_IDLE: tuple[tuple[str, str], ...] = (
    (r"(?<=\d),(?=\d{3}\b)", ""),
    (r"\b(\d+(?:\.\d+)?)\s?l\b(?=\s*(?:/|per|a|of|min|o2|oxygen|$))", r"\1 litres"),
    (r"\be\.?g\.|\bi\.?e\.|\betc\b\.?", " "),
    (r"\ball right\b|\balright\b|\bthats right\b|\bis right\b(?=\s*[?.]|$)", " "),
    (r"\bright (?=now\b|away\b|then\b|so\b|ok)|\bwhats left\b", " "),
    (
        (
            r"^\W*(?:(?:ok|okay|so|well|um|er|now|good|yes|hmm)\W+)*right\b"
            rf"(?=\s*[,.:;!-]|\s+(?:{_AFTER_IDLE_RIGHT})\b)"
        ),
        " ",
    ),
    (
        (
            rf"\b(?:with |using )?(?:my|your|the examining|the examiners?) {_SIDE} "
            r"(?=hand|thumb|finger|ear|palm)"
        ),
        " ",
    ),
    (
        (
            rf"\b(?:from|at|on|to|standing on|stand on|standing at) {_OWNER}(?:patients? )?{_SIDE}"
            r"(?: hand)?(?: side)? (?:side )?of the (?:bed|couch|patient)"
        ),
        " ",
    ),
    (
        rf"\b{_HEAD}(?: is| are)?(?: turned| rotated| tilted| looking| turning)+ {_TO_SIDE}",
        " ",
    ),
    (rf"\bturn(?:ing|ed)? {_OWNER}{_HEAD} {_TO_SIDE}", " "),
    (rf"\b{_SIDE}[ -]?handed\b", " "),
    (r"\bwh?y (?:dont|not|shouldnt|couldnt|cant) (?:we|you|i)\b", " "),
    (r"\b(?:if you |would you |do you )?(?:dont|wouldnt|not) mind\b(?: if i)?", " "),
    (r"\bthis time\b", " instead "),
    (r"\b(?:have a )?look(?:ing)? (?:out )?for\b", " "),
    (r"\bdont forget to\b|\bnot only\b", " "),
    (r"\bno need (?:to|for)\b|\brather than\b|\binstead of\b", " not "),
    (r"\b(?:cant|couldnt|shouldnt|wont|wouldnt) (?:we|you|i)\b", " "),
    (r"\b(?:make sure|check|ensure|see)(?: that)? (?:there is|there are|theres) no\b", " "),
    (
        rf"\b(?:ask|get|tell|have|instruct|want|asking|getting|with) {_OWNER}{_PATIENT} to\b",
        " ",
    ),
    (
        (
            rf"(?:^|(?<=[,.;?] ))(?={_QUESTION}"
            r"(?:do|does|have|are|did|were|had|is|was|has|are there|when did) your?\b)"
        ),
        "ask ",
    ),
    (r"\b(?:followed by|as well as|along with|together with|after that|and then)\b", " then "),
    (
        rf"\bpulse( rate| rhythm)? (?:at|in|on|over) {_OWNER}((?:left|right|both) )?wrists?\b",
        r"\2radial pulse\1",
    ),
    (r"\bst[ae]thoscope\b", "stethoscope"),
)
_SPOKEN = tuple((re.compile(pattern, re.IGNORECASE), by) for pattern, by in _IDLE)


def clean(text: str, *, is_spoken: bool) -> str:
    """The text in even writing and, of speech, without what only sounds like a side or denial."""
    if _NEEDS_EVENING.search(text):
        for pattern, by in _ALWAYS:
            text = pattern.sub(by, text)
    if is_spoken:
        for pattern, by in _SPOKEN:
            text = pattern.sub(by, text)
    return text
