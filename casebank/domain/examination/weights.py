"""What each trait of a reading counts: tables learned from phrasings, in units of log odds.

- ``ALONE``: that all words of a text ask for one step (``alone``)
- ``SEVERAL``: that a text asks for the steps of a cut (``cutting``)
- ``GOES_ON``: that a text asks for the step before in another way (``goingon``)
- ``CHOOSE``: that a step is the one meant, of those near (``choosing``)
- ``KEEP``: that a part of a sentence is a request of its own (``keeping``)
- ``TAKE``: that a reading is the one meant (``trusting``)

Written by ``python -m tests.evaluation.learn``; not to be changed by hand.
"""

from __future__ import annotations

# fmt: off
ALONE: dict[str, float] = {
    "bias": -4.9686, "affinity to best": 0.1158, "ask": -0.3082, "asks you": -0.5144,
    "breaks: and": -0.3678, "breaks: aside": 0.8181, "breaks: comma": 0.4529, "breaks: or": 0.3743,
    "breaks: query": 2.0146, "breaks: stop": 0.6896, "breaks: then": -2.4457, "corrected": 0.1763,
    "described": 3.7183, "heard": -0.3423, "heard, at most 0": 2.8208, "known": 2.343,
    "lead": 2.4804, "lead on the third": 0.5788, "lead, at most clear": 0.5665, "method": 0.8259,
    "methods": -0.075, "named": 1.2766, "no other": -0.93, "one word": -0.891, "order": 0.2891,
    "other method": 0.1897, "others": 0.5757, "others: ask": 0.4828, "others: method": -0.1313,
    "others: part": 0.7853, "others: region": -1.0544, "others: whole": 0.356,
    "part: best": -1.2577, "part: mean gap": -0.3047, "part: widest gap": -0.4122,
    "part: worst": -0.0228, "questions": 0.1109, "reason": 0.1548, "rival": -0.3113,
    "rival in all": -0.4815, "rival in all to best": 0.1224, "rival is second": -0.2362,
    "rival: lead": -0.8822, "rivals in all": -0.0254, "second is part": -1.1209,
    "second is sibling": -0.7351, "second is whole": 0.3971, "second rival": -0.3822,
    "segments": -0.166, "telling": 0.1116, "they": 0.1416, "treat": -0.5723, "unknown": -0.1025,
    "verbs": -0.3305, "whole": 0.9552, "words": 0.0288, "you": 0.5374,
}
SEVERAL: dict[str, float] = {
    "bias": -6.734, "all": 0.1477, "all ask": 0.3994, "all orders": 0.8078, "asked": -0.0632,
    "at and": 0.3677, "at aside": -3.6798, "at comma": -1.3425, "at or": -1.9736,
    "at query": -5.0877, "at stop": 0.2609, "at then": 1.4257, "best of all is a part's": 0.7882,
    "best of all is the first's": -0.5891, "best of all is the last's": -0.2346,
    "dimensions": -0.8173, "first": 1.7109, "first alone with verb": -0.4152,
    "in all: gap": -0.5556, "in all: least": 1.3094, "in all: most": 0.7196,
    "in all: second": -0.4283, "last": 1.3987, "last looks": -0.2684, "least": 2.8078,
    "left uncut": -0.3409, "like methods": -0.1562, "like regions": 0.1614, "like systems": 2.0149,
    "longest": -0.1097, "mean": -1.0967, "most": 2.6763, "on whole": 0.0482,
    "part of another": -3.7404, "parts": 0.3772, "repeated": -0.4607, "shortest": 0.0336,
    "siblings": 1.1205, "some ask": -0.2734, "some orders": -0.5718, "two": -0.7735,
    "whole": -1.2203, "words": 0.0125,
}
GOES_ON: dict[str, float] = {
    "bias": 2.4691, "again": 1.6647, "all explained": -0.1542, "alone": 1.6181,
    "alone elsewhere": -1.607, "changes": 0.8206, "changes what was said": 2.4637,
    "earlier asks": 0.4821, "earlier heard": 0.9669, "earlier orders": -0.8301,
    "earlier to best": 1.032, "explained": 2.309, "fits method": -0.433, "has verb": -0.0398,
    "heard": -1.2145, "leans back": 0.4783, "names another": -0.4167, "new breathing": 2.6896,
    "new effort": 3.5688, "new instrument": 2.1893, "new posture": 2.5101, "new side": -0.4127,
    "new site": 1.2683, "new timing": 3.0471, "of its description": 1.2971, "of its names": -0.7421,
    "opens going on": 0.4641, "opens with a small word": 1.14, "opens with verb": -0.5336,
    "other": -0.7091, "other method": -1.9145, "part": -2.9528, "points": 0.4349,
    "questions": 0.1898, "same method": -0.347, "same region": -0.2405, "same step": 2.182,
    "same system": -1.5663, "says the same": 1.959, "segments": -0.5877, "siblings": -0.3768,
    "telling": -0.3914, "to patient": 0.1898, "treats": 0.4526, "values": -1.2171, "words": -0.0899,
}
CHOOSE: dict[str, float] = {
    "affinity": 0.0301, "covered": 0.4206, "description": 1.1004, "doubtful": -0.359,
    "exact": 0.534, "heard": 0.1874, "heard in all": 0.6944, "heard in all to best": 0.6944,
    "heard is best": 0.6703, "heard to best": 0.1874, "known words": 0.1718, "label": 0.8198,
    "many names": -0.3806, "method": 0.4312, "name": 0.1528, "named": -0.3858, "names": 0.0203,
    "neither": -0.0692, "order": 0.3932, "other method": -0.4312, "part: heard": -0.1816,
    "part: heard in all": 1.2571, "part: name": -0.0517, "part: score": 0.0644, "score": 1.5611,
    "share of name": -1.3458, "told": 0.0624, "treat": -0.2886, "values": 0.6139,
    "verb said": 0.2001, "whole": -0.0957,
}
KEEP: dict[str, float] = {
    "bias": -1.2168, "after (": -0.9409, "after /": -1.1551, "after ;": 0.1544, "after ?": -0.8014,
    "after and": 0.1027, "after aside": -1.145, "after comma": -0.4739, "after or": -1.2042,
    "after query": -2.9524, "after stop": 0.477, "after then": 0.9241, "all literal": 0.3305,
    "answers": -0.3697, "answers of segments": 1.2691, "ask": -0.6803, "before and": -0.1086,
    "before aside": -0.7865, "before comma": -0.2381, "before or": -0.4942, "before query": -0.1877,
    "before stop": 0.449, "before then": 1.2556, "covered": 0.5251, "dimension": -1.1485,
    "doubtful": 0.1834, "exact": 0.2067, "first": 0.2039, "first is longer": 0.2992,
    "first: asks": 0.087, "first: covered": 0.1044, "first: fit": -0.2638,
    "first: fit only": -0.0589, "first: fitted": 0.3523, "first: has verb": -0.2355,
    "first: is literal": -0.0957, "first: is sure": -0.1338, "first: length": -0.052,
    "first: name": -0.1335, "first: orders": -0.3839, "first: part": -3.1018,
    "first: same method": -0.1917, "first: same region": -0.4074, "first: same step": 1.464,
    "first: same system": 0.9197, "first: score": 0.2226, "first: siblings": 0.8692,
    "first: whole": -2.0658, "has verb": -0.2008, "heard": 0.9509, "heard in all": 1.9876,
    "heard in all to best": 0.4626, "heard in all to others": 0.3179, "heard is best": 0.3996,
    "heard to best": -0.6077, "inherits verb": 0.0551, "inspect": 0.0608, "is whole": -0.3086,
    "joins": -0.0633, "last": 0.0565, "last: asks": -0.5314, "last: covered": -0.3742,
    "last: fit": 0.0308, "last: fit only": -0.311, "last: fitted": 0.1227, "last: has verb": 0.9185,
    "last: is sure": 0.1354, "last: name": -0.0704, "last: orders": 0.075, "last: part": 0.474,
    "last: same method": 0.192, "last: same region": 0.2571, "last: same step": 0.1343,
    "last: same system": 0.1871, "last: score": 0.1219, "last: siblings": -0.2892,
    "last: whole": 0.6267, "least covered": 1.5162, "left over": -0.0316, "length": 0.4801,
    "like methods": 0.0879, "like regions": 0.9987, "literal": -0.3381, "literal share": -0.2126,
    "main: asks": 0.3004, "main: covered": 0.3615, "main: fit": -0.609, "main: fit only": -0.5241,
    "main: fitted": 0.1143, "main: has verb": -0.5221, "main: is literal": 0.1031,
    "main: is sure": -0.2648, "main: length": -0.1072, "main: name": 0.1087,
    "main: orders": -0.5185, "main: part": 0.7949, "main: same method": -0.1631,
    "main: same region": 0.1063, "main: same step": 0.4434, "main: same system": 0.6512,
    "main: score": -0.4535, "main: siblings": 0.4309, "main: whole": -0.8147, "manoeuvre": -0.5884,
    "name": 0.0833, "named": -0.8116, "next: asks": 0.2888, "next: covered": -0.138,
    "next: fit": -0.1784, "next: fit only": -0.2181, "next: fitted": 0.4941,
    "next: has verb": 0.4642, "next: is literal": 0.0476, "next: is sure": 0.2057,
    "next: name": -0.1071, "next: orders": 0.7596, "next: part": -2.1089,
    "next: same method": 0.2544, "next: same region": -0.6814, "next: same step": 0.2705,
    "next: same system": 1.0744, "next: score": -0.1377, "next: siblings": -0.0686,
    "next: whole": -0.8309, "one word": -0.7996, "opens idly": 0.0423,
    "opens with because": -0.1617, "opens with he": -0.1987, "opens with i": -0.0547,
    "opens with if": -0.0585, "opens with meaning": -0.2054, "opens with question": 0.1253,
    "opens with verb": 0.5068, "order": 0.9205, "others named": 0.6391, "questions": 0.1306,
    "says he": 0.2314, "says me": 0.3204, "says you": 0.202, "score": 1.2628, "segments": 0.0603,
    "share of names": -0.8196, "share of weight": -2.8627, "stops": -0.3674, "sure": 0.6358,
    "told": 0.233, "treat": 0.1014, "verbs": 0.0237, "weight": 0.0196, "weightiest": -0.0289,
    "words": -0.0442,
}
TAKE: dict[str, float] = {
    "bias": -0.9509, "act on patient": -0.084, "affinity": 0.0108, "affinity is best": -0.1196,
    "affinity to all": 0.0073, "affinity to best": -0.0484, "affinity: lead": 0.0063,
    "alone": 2.8609, "ask of patient": 0.2942, "chosen: lead": 0.2835, "covered": 0.3573,
    "covered: lead": 0.671, "description": 0.4306, "description: lead": 0.876, "doubtful": -0.6865,
    "exact": -0.4729, "exact: lead": -0.0893, "heard": 0.4328, "heard in all": 0.9066,
    "heard in all to best": -0.6314, "heard in all: lead": 0.5453, "heard is best": -0.4776,
    "heard to best": -0.7515, "heard: lead": 0.4646, "heard: least lead": 0.1079, "idle": 0.0631,
    "inherits": 3.9557, "known words": 0.2575, "known words: lead": 0.1629, "label": 0.7105,
    "label: lead": -0.0619, "lead": 0.5028, "literal": -0.2943, "literal: lead": -0.2937,
    "many names": -0.3223, "many names: lead": -0.1403, "method": 0.2013, "name: lead": -0.0943,
    "named": 0.2555, "named: lead": -0.4543, "names": -0.2678, "names: lead": -0.2933,
    "neither": 0.2318, "neither: lead": 0.1683, "no verb": -0.0476, "order": 0.2829,
    "order: lead": 0.1811, "other method": -0.0397, "outside words": -0.0236,
    "part: heard": -0.3419, "part: heard in all": 0.7104, "part: heard is best": 0.255,
    "part: name": -0.0799, "part: score": 1.5413, "rival is part": -1.4257, "rival is whole": 0.654,
    "score": 0.0962, "score: lead": 0.5028, "segments": 0.1956, "share of name": 0.2449,
    "sure": 0.1373, "told": 0.1939, "told: lead": -0.0306, "treat": 0.2381, "values": 0.3844,
    "verb said": 0.2569, "verb said: lead": -0.1952, "weight": 0.0091, "whole": 0.1202,
    "whole: lead": -0.1369, "words": 0.0155,
}
