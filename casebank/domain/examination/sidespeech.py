"""Turns of speech in which a side is said that is not the one meant, with what they say instead.

The eye that is covered is not the one that reads, a side that was taken back is not meant, *first
left, then right* is both. Owns the table; when it is used is ``idle``'s.
"""

from __future__ import annotations

from collections.abc import Callable
from re import Match

Instead = str | Callable[[Match[str]], str]

_SIDE = r"(left|right|lt|rt|l|r)"
_OWNER = r"(?:the |this |my |your |his |her |their |one )?"
_ORGAN = r"(?: (?:eye|nostril|nares|ear|one))?"
_NO_COVER_TEST = r"(?!.*\b(?:uncover|cover test|fixat|jump|moves?\b|squint|strabis|drift))"
"""Where the eyes are covered to see whether they move, the one covered may be the one meant."""
_BLOCKED = (
    r"(?:(?:pinch|occlud|cover|mask|plug)(?:e|es|ed|ing)?"
    r"|(?:press|block|close|shut)(?:e?s|e?d|t?ing)?"
    r"(?=.*?(?:left|right|lt|rt|l|r) (?:eye|nostril|nares|ear)))"
)
_HELD = (
    r"(?:(?:pop|put|place|hold|keep|with) )?(?:an? |your |the |his |her )?"
    r"(?:palm|hand|card|patch|finger|occluder) (?:over|on|across)"
)
_READ = r"\b(?:read|letters?|chart|snel+en|doing|ishihara|colou?r|(?<!joint )line|lowest|acuity)"
_TESTED = (
    r"\b(?:smell|sniff|coffee|mint|read|letters?|chart|lines?|whisper|99|colou?r|finger|nose|"
    r"disappears?|vanish\w*|through)\b"
)
_WANTING = r"(?:after |doing |want(?:ing)? )?"
_CORRECTED = (
    r"\b(?:no+|sorry|actually)(?=[,. ]*(?:sorry|hang|wait|i mean|thats|thats not|the|other|"
    r"actually|not|make (?:that|it)|rather|its|er+|um+|so|left|right)\b)"
    r"|\bi mean\b|\bscratch that\b|\boops\b"
)
_THEN = r"(?:,? (?:and )?(?:then|followed by|after(?:wards)?)|, )"
_PART = r"(?:side|eye|hand|nostril|ear|leg|arm|foot|knee|hip|lung|base)"

_OF_TWO = (
    r"(?:of )?(?:the |his |her |your |my )?(?:left|right|l\b|r\b|side|eye|ear|lid|nostril|cheek|"
    r"temple|arm|leg|hand|foot|feet|knee|hip|shoulder|elbow|wrist|ankle|calf|calves|thigh|shin|"
    r"groin|lung|base|apex|apices|upper l|lower l|breast|kidney|loin|flank|lobe|carotid|radial|"
    r"femoral|popliteal|dorsal|posterior|biceps|triceps|plantar|limb|finger|thumb|toe|palm|sole|"
    r"heel|tempor|outstretch|inner|outer|medial|lateral|ovar|adnexa|sock|shoe|axill|armpit|zone|clavic|test[ei]|pupil|cornea|fund)"
)
"""What one has two of: *both calves and ankles* tells a side, *both swells and hurts* none."""
_OTHER = {"l": "right", "r": "left"}


def _other(found: Match[str]) -> str:
    """The side that is left when this one is covered."""
    side = next(group for group in found.groups() if group)
    organ = "eye" if " eye" in found[0] else "one"
    return f" with the {_OTHER[side[0].lower()]} {organ} "


_TAKEN_BACK: tuple[str, str, Instead] = (
    "no|sorry|mean|scratch|oops|actually",
    rf"\b{_SIDE}\b(?=([^.;?]{{0,70}}?)(?:{_CORRECTED})[^.;?]{{0,45}}?\b(left|right)\b)",
    r"\3",
)
"""Used twice: *the right, no, other right, I mean the left*."""

SIDES: tuple[tuple[str, str, Instead], ...] = (
    ("lt", r"\blt (?=over\b|sensation\b|testing\b|and (?:pp|pin)\b|\+|&)", "light touch "),
    _TAKEN_BACK,
    _TAKEN_BACK,
    (
        "pinch|press|block|close|shut|occlud|cover|mask|plug",
        (
            rf"\b{_BLOCKED} (?:off |up |out |down )?{_OWNER}{_SIDE}{_ORGAN}(?= |,|$|\.)"
            rf"(?: shut| closed| off)?(?= ?[,.;:]|.*{_TESTED}){_NO_COVER_TEST}"
        ),
        _other,
    ),
    (
        "palm|hand|card|patch|finger|occluder",
        rf"\b{_HELD} {_OWNER}{_SIDE}{_ORGAN}\b{_NO_COVER_TEST}(?=.*{_READ}|$)",
        _other,
    ),
    (
        "covered|shut|closed|patched|masked|blocked|card|patch|rubbed",
        (
            rf"\b{_OWNER}{_SIDE}(?: (?:eye|one|ear|nostril))?(?: is)? (?:under (?:the|a|his|her) "
            r"(?:card|hand|patch|palm)|covered|shut|closed|patched|masked|blocked|rubbed)\b"
            rf"{_NO_COVER_TEST}"
        ),
        _other,
    ),
    *(
        one
        for this, other in (("right", "left"), ("left", "right"))
        for one in (
            ("only", rf"\b({this}(?: \w+)?,? only\b.*?)\b{other}\b", r"\1"),
            ("only", rf"\b{other}\b(.*\b(?:only|just) {_WANTING}(?:the )?{this}\b)", r"\1"),
            (
                other,
                (
                    rf"\b({this}\b.*?[,;:.] ?(?:as |because )?)the {other}(?: \w+)?"
                    r"(?:s| is| has| had| was) (?:been |already |got |a |in a )*[^,.;]*"
                ),
                r"\1",
            ),
            (
                "only",
                rf"\b({this[0]} only\b.*?)\b{other[0]}\b",
                r"\1",
            ),
            (
                this,
                (
                    rf"\b(?:to |in |on )?(?:the |her |his |your )?{this}(?: \w+)?(?: first)?"
                    r",? (?:and )?(?:then|followed by|after(?:wards)?) (?:to |in |on )?(?:the )?"
                    rf"{other}(?=[,.;?]|$)"
                ),
                " both ",
            ),
            (
                f"{this}| {this[0]} ",
                (
                    rf"\b(?:first |on the |the )*(?:{this}|{this[0]}){_THEN} "
                    rf"(?:on )?(?:the |by the )?(?:{other}|{other[0]})\b"
                ),
                " both ",
            ),
        )
    ),
    (
        "leav|ignor|spar|skip",
        rf"\b(?:leav|ignor|spar|skip\w*)(?:e|ing|p)? {_OWNER}{_SIDE}(?: \w+)?\b(?: alone| out)?",
        " ",
    ),
    ("right angle", r"\bright angles?\b", " "),
    ("press right", r"\bpress right (?=on\b|over\b|into\b|in\b)", "press "),
    ("well", rf"\b(?:the )?{_SIDE}[,. ]+no[,. ]+well[,. ]+both\b", "both"),
    (
        "swap|switch",
        (
            r"\b(?:your|the|his|her) (?:left|right)\b(?= eye| ear| hand)"
            r"(?=.*\b(?:then|and|after that) (?:well |we |we'll )?(?:swap|switch)"
            r"(?: over| sides| eyes)?\s*[.?]?$)"
        ),
        "both",
    ),
    ("own", rf"\bmy own {_SIDE}\b", " "),
    ("is left", r"\bis left(?=\s*(?:[.?!]|$))", " "),
    ("one ", rf"\bone {_PART},? (?:and |before |or )?(?:then |after )?the other\b", " both "),
    ("at a time", rf"\bone ({_PART}) at a time\b", r" both \1s "),
    ("in turn", rf"\beach (?:of (?:your|his|her|the) )?({_PART})s? in turn\b", r" both \1s "),
    ("side", r"\bside against side\b|\bside by side\b(?= compar)", " both sides "),
    (
        "both",
        (
            r"\bboth (?:the )?(?:wrist |radial and ulnar )?(arteries|vessels)\b"
            r"(?=.*\b(?:fist|clench|ulnar|release|flush|pink|let go))"
        ),
        r"\1",
    ),
    (
        "both hands",
        (
            r"\b(?:with |using |my )both hands\b|\bboth hands(?= at once|,? from behind|:)"
            r"|(?<=from behind, )both hands\b"
        ),
        " ",
    ),
    ("one ", rf"\bone {_PART},? or both\b(?: of them)?", " "),
    (
        "both ",
        (
            r"(?<=with )both (?=thumbs|index)|\bboth (?=phases|eyes (?:blink|close|shut)|sounds|"
            r"times|heart sounds|components|inspiration|ways|directions)"
        ),
        " ",
    ),
    (
        "good|healthy|sound|unaffected|uninvolved|normal",
        (
            r"\b(?:the|his|her|your) (?:good|healthy|sound|unaffected|uninvolved|normal) "
            rf"({_PART}|one|limb|calf|thigh|shoulder|elbow|wrist|ankle)\b"
        ),
        r"the other \1",
    ),
    (
        "opposite|other",
        (
            r"\b(?:the |her |his |your )?(?:opposite|other) (?:fist|hand|knee)"
            r"(?= (?:meanwhile|at the same time|(?:hard )?on (?:his|her|your)))"
            r"|(?<=clenching )(?:the |her |his |your )?(?:opposite|other) (?:fist|hand)\b"
            r"|(?<=clenches )(?:the |her |his |your )?(?:opposite|other) (?:fist|hand)\b"
            r"|(?<=taps )(?:the |her |his |your )?(?:opposite|other) (?:fist|hand|knee)\b"
            r"|(?<=taps her knee with )(?:the |her |his )?other hand\b"
            r"|(?<=taps his knee with )(?:the |her |his )?other hand\b"
        ),
        " jendrassik ",
    ),
    (
        "right",
        (
            r"^\s*right,? (?=(?:he|she|hes|shes|i|im|ill|id|so|now|lets|can|could|would|may|you|if|"
            r"ok|okay|well|um|er)\b)"
        ),
        " ",
    ),
    ("both ", rf"\bboth (?!{_OF_TWO})(?=(?:\w+ ){{1,2}}and \w+)", " "),
    ("both epi|both mall", r"\bboth (?=epicond|malleol)", " "),
    (
        "one hand",
        (
            r"\bone hand (?:on|against|onto) (?:the )?(?:(?:back|palm) of )?(?:the )?other"
            r"(?: (?:palm|hand))?\b"
        ),
        " hand on hand ",
    ),
    (" each", r"\b(at|steps?|seconds?|times?|mark|marks) each\b", r"\1"),
    ("right", r",\s*right\s*\?\s*$", "?"),
    (
        "right ",
        (
            r"(?<!the )(?<!on )(?<!his )(?<!her )(?<!your )(?<!to )\bright (?=above\b|below\b|"
            r"beneath\b|beside\b|next to\b|before\b|after\b|there\b|here\b|where\b|"
            r"to the (?:end|top|bottom|tip|back|edge)\b|at the (?:end|top|bottom|tip|back|edge)\b)"
        ),
        " ",
    ),
    ("is that right", r"\b(?:is that|isnt that|would that be) right\b", " "),
)
