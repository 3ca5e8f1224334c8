"""Turns of speech in which *left* and *right* say no side of what is asked for.

What remains or has gone away, what is correct, where in the brain the trouble lies, the examiner's
own hand. Owns the table; when it is used is ``idle``'s.
"""

from __future__ import annotations

_SIDE = r"(?:left|right)"
_GONE = (
    r"\b((?:it|he|she|they|who|has|have|had|hes|shes|was|is|ive|been|being|just|\w+ed it) )left "
    r"(?=(?:the (?!\w+ (?:and|or|then) right)|his|her|my|its|already|in a|on a|behind|over from|"
    r"early|home|hospital|work)\b)"
)
_REMAINING = (
    r"\b(?:any(?:thing|one)?|much|some|nothing|whats|what is|thats|all thats|bit|things?|"
    r"(?:any|much|some|no|enough) \w+|one|last \w+)"
    r"(?: (?:does he have|does she have|do you have|has he|has she|is|are|he has|she has))? left\b"
    r"(?= (?:in|of|on (?:my|the) (?:list|sheet|form|plan)|to do|for me|is|after|when|at all)\b"
    r"|\s*[?.,:]|$)"
)
_CORRECT = (
    r"(?:cuff|size|way|time|height|spot|order|dose|tool|thing|kit|technique|moment|choice|answer|"
    r"direction|length|test|place|fork|hammer|chart|instrument|speed)"
)
_BRAIN = (
    r"(?:mca|aca|pca|pica|hemispher\w*|cerebell\w+|cortical|cortex|thalam\w+|internal capsul\w+|"
    r"(?:parietal|frontal|occipital|temporal) (?:lobe|bleed|stroke|infarct\w*|tumou?r|lesion|mass)|"
    r"basal ganglia|pontine|midbrain|medullary|brain|intracerebral|"
    r"subdural|extradural|homonymous|hemianop\w*|stroke|cva|tia|infarct\w*|lacun\w+|"
    r"carotid endarterectom\w+|optic neuritis)"
)
_HELD = r"(?:index|forefinger|finger|hand|thumb|palm|fist|eye|forearm|arm|fingertips?|fingers)"

NO_SIDES: tuple[tuple[str, str, str], ...] = (
    ("left", _GONE, r"\1 "),
    ("left", _REMAINING, " "),
    ("left my", r"^left my\b", " "),
    ("right", rf"\b(?:the|a|his|her|that) right (?={_CORRECT}\b)", " the "),
    ("right", r"\b(?:be|is|was|its|seems?|only) right (?=to\b|that\b|for\b|and proper\b)", " "),
    ("right on", r"\bright (?=on (?:the )?(?:top|tip|edge|end|bone|knuckle|spot|point)\b)", " "),
    (
        "left|right",
        (
            rf"\b{_SIDE}(?:[- ]?(?:sided|hemisphere))? (?=(?:\w+ )?{_BRAIN}\b)"
            r"(?!\w+ (?:and|or|then)\b)"
        ),
        " ",
    ),
    ("left|right", rf"\bmy {_SIDE} (?={_HELD}\b)", "my "),
    ("against my", rf"\bagainst my {_SIDE}\b", "against my own"),
)
