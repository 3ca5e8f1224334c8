"""Evens out ways of writing, and removes idle speech, before a text is cut into words.

Idle uses of *right* and *left*, polite negations and stage directions to the patient say no side,
no denial and no request: they are gone before anything is compared.
"""

from __future__ import annotations

import re

from casebank.domain.examination.idle import SPOKEN, is_idle_in
from casebank.domain.examination.reasons import may_hold_reasons, without_reasons

_ALWAYS = (
    (re.compile(r"\bUS\b"), "ultrasound"),
    (re.compile(r"\bMR (?=[a-z])"), "MRI "),
    (re.compile(r"\bSH\b"), "social history"),
    (re.compile(r"\bFIT\b"), "faecal immunochemical"),
    (re.compile(r"\b(?:oxygen|o2|O2) sat\b"), "oxygen saturation"),
    (re.compile(r"[’‘`´]"), "'"),
    (re.compile(r"(?<=\w)'(?=\w)"), ""),
    (re.compile(r"°|º"), " degrees "),
    (re.compile(r"\b[bB]/[lL]\b"), "bilateral"),
    (re.compile(r"(\d)\.(?=\d)"), r"\1point"),
    (re.compile(r"\b[xX][ -][rR]ay(?=s?\b)"), "xray"),
    (re.compile(r"\s[-–—]+\s"), " : "),
    (re.compile(r"(?<!\S)\?\s?(?=\w)"), " ¿ "),
    (re.compile(r",? (?:such as|including|incl|namely|covering)\b(?=.)"), " : "),
)
"""Ways of writing, evened out in the catalogue's texts and in the student's."""
UNEVEN_WORDS = frozenset({"ray", "sat", "such", "incl", "including", "namely", "covering"})
"""Small words that a way of writing to be evened out has at its end or beginning."""
_NEEDS_EVENING = re.compile(
    r"[’‘`´'°º]|US|MR |SH|FIT|\d\.|[bB]/[lL]|[xX][ -][rR]ay|\s[-–—]|(?<!\S)\?"
    rf"|\b(?:{'|'.join(sorted(UNEVEN_WORDS))})\b"
)


def is_clean(words: list[str], text: str) -> bool:
    """Whether a text of these words, small letters all of them, is left as it is by ``clean``.

    Quick, and True for most names of the catalogue; False does not mean the contrary.
    """
    if not UNEVEN_WORDS.isdisjoint(words) or may_hold_reasons(text):
        return False
    return not is_idle_in(words, text)


def clean(text: str, *, is_spoken: bool) -> str:
    """The text in even writing and, of speech, without what only sounds like a side or denial."""
    if _may_need_evening(text) and _NEEDS_EVENING.search(text):
        for pattern, by in _ALWAYS:
            text = pattern.sub(by, text)
    return _without_idle_speech(text) if is_spoken else text


def _may_need_evening(text: str) -> bool:
    """False, quickly, for most names of the catalogue: small letters and none of a few words."""
    is_plain = text.islower() and text.isascii() and text.replace(" ", "").isalpha()
    return not is_plain or not UNEVEN_WORDS.isdisjoint(text.split())


def _without_idle_speech(text: str) -> str:
    text = without_reasons(text)
    low = text.lower()
    if not is_idle_in(low.split(), low):
        return text
    for needs, pattern, by in SPOKEN:
        for need in needs:
            if need in low:
                text = pattern.sub(by, text)
                low = text.lower()
                break
    return text
