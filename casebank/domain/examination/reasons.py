"""Takes out of a sentence why something is asked for, so that the reason is not asked for too.

*He has a fever, so look at the nails*; *percuss the bases, as she is breathless*; *a stool culture
before starting antibiotics*. Owns these turns of speech only; what is left is read as ever.
"""

from __future__ import annotations

import re

_THEY = r"(?:he|she|they|it|this|that|there|his|her|their|theres|hes|shes|its)"
_BE = (
    r"(?:is|are|has|have|had|was|were|looks?|feels?|seems?|sounds?|may|might|could|cant|cannot"
    r"|says?|said|takes?|drinks?|went|keeps?|wants?|gets?|got|lost|hit|worked)"
)
_MANNER = (
    r"(?:lying|lies|sitting|sits|sat|stand\w*|reclin\w*|supine|flat|upright|prone|leaning|leans"
    r"|roll\w*|turned|on his|on her|on the|in the|at|breath\w*|holding|held|relaxed|squatting)"
)
_SUPPOSE = r"(?:suspect|wonder|worry|am worried|am thinking)"
_REST = r"(?:(?!, (?:and )?(?:then|next|now)\b)[^.;?!])*"
_SUBJECT = (
    r"(?:he|she|they|it|(?:the |this )?(?:patient|child|man|woman|lady|teenager|boy|girl|baby)"
    r"|(?:his|her|their|the) (?:\w+ ){1,3}?)"
)
_STARTS = r"(?:^|(?<=[.;!] ))"

_TURNS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"{_STARTS}(?:as|since|because|given that|given) [^,.;?]*,",
        rf"{_STARTS}in (?:this|a|an) [^,.;?]* with [^,.;?]*,",
        rf"{_STARTS}(?:{_SUBJECT}|there|theres) ?{_BE}\b[^.;?]*?,? so (?:that )?(?=\w)",
        rf"{_STARTS}(?:he|she)s (?!{_MANNER})[^.;?]*?,? so (?=\w)",
        rf"(?:, as|,? since|,? because) {_THEY}\b(?! (?:well|far|soon|much)\b){_REST}",
        rf" as {_THEY} (?:is|are|has|have|had|was|were|looks?|may|might)\b{_REST}",
        rf", (?:he|she|they|it) {_BE} (?!{_MANNER}){_REST}",
        rf", (?:his|her|their) (?:\w+ ){{1,3}}{_BE}\b (?!{_MANNER}){_REST}",
        rf",? (?:as |since )?(?:i|im|i am|we) {_SUPPOSE}\b{_REST}",
        r",? thinking of [^.;?]*",
        r"\bbefore (?:starting|start|giving|you give|we give|prescribing|i prescribe)\b[^,.;?]*",
        r",? in case\b[^.;?]*",
        r",? to (?:rule out|exclude|follow|confirm|classify|establish)\b[^.;?]*",
    )
)
_MAY_HOLD = re.compile(
    r"\b(?:as|since|because|given|so|before|until|case|thinking|suspect|wonder|worry|worried"
    r"|in this|rule out|exclude|follow|confirm|classify|establish|he|she|they|it|his|her|their)\b",
    re.IGNORECASE,
)
SHORTEST = 6
"""Words of a text below which nothing is taken out."""


def may_hold_reasons(text: str) -> bool:
    """Whether a text is long enough, and has a word, for a reason to be given in it."""
    return text.count(" ") + 1 >= SHORTEST and _MAY_HOLD.search(text) is not None


def without_reasons(text: str) -> str:
    """The text without its reasons; the whole of it where nothing else would be left."""
    if not may_hold_reasons(text):
        return text
    for turn in _TURNS:
        left = turn.sub(" ", text)
        if left.count(" ") and re.search(r"\w+\W+\w+|\w{4}", left):
            text = left
    return text
