"""Decides whether the best reading of a group may be taken or the student must be asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from casebank.domain.examination.model import Method, Need, Step
from casebank.domain.examination.scoring import FULL, Candidate

TAKE = 0.74
"""Least score that is taken without asking."""
TAKE_NAMED, CLEAR_LEAD = 0.56, 0.2
"""Least score that is taken, with this lead, of a step named in full or in all words said."""
ASK = 0.43
"""Least score worth offering. Of synonyms withheld from the catalogue that scored less, one in
eight was read as its own step."""
EXACT_GAP, GAP, RISKY_GAP = 0.03, 0.06, 0.12
"""Least lead over the next step: of a step named in full over one that is not, between steps of
like cost and risk, and between steps that differ in them. Chosen so that of synonyms withheld
from the catalogue few were read as another step."""
ASK_OF_LITTLE, HALF_SAID = 0.52, 0.6
"""The same where less than this share of what was said is explained."""
WORD = 0.8
"""Names whose weights differ by more differ by at least a word."""
FIRM = 0.87
"""Below this score the lead must be half as large again, unless all words were used and the next
step left some of them over."""
MORE = 0.05
"""By so much more must a reading cover that also uses one more of the slots said."""
PARTLY = 0.8
"""A step that covers less than this leaves words over."""


def is_worth_asking(top: Candidate) -> bool:
    """Whether a reading is near enough to what was said to be offered: most words unexplained,
    and the rest pointing only faintly, is no reading at all."""
    return top.score >= (ASK if top.covered >= HALF_SAID else ASK_OF_LITTLE)


def is_sure(ranked: Sequence[Candidate], steps: Mapping[str, Step]) -> bool:
    """Whether the first of the candidates may be taken."""
    top = ranked[0]
    if top.doubts or not top.said.techniques or top.score < _least(ranked):
        return False
    return all(
        top.score - rival.score >= _needed(top, rival, steps)
        for rival in ranked[1:]
        if rival.slug != top.slug
    )


def _least(ranked: Sequence[Candidate]) -> float:
    top = ranked[0]
    lead = top.score - max((one.score for one in ranked if one.slug != top.slug), default=0.0)
    is_named = top.named >= 0.9 and lead >= CLEAR_LEAD and _said_of(top) >= 2
    is_alone = top.named >= 0.9 and lead >= 1.5 * CLEAR_LEAD
    is_described = top.covered >= 0.8 and top.known_words >= 2 and lead >= 0.75 * CLEAR_LEAD
    return TAKE_NAMED if is_named or is_alone or is_described else TAKE


def _said_of(candidate: Candidate) -> int:
    """How many known words speak for a step: those of its names, and the verb of the name said."""
    return candidate.known_words + candidate.is_verb_said


def _needed(top: Candidate, rival: Candidate, steps: Mapping[str, Step]) -> float:
    longer = top.name_weight - rival.name_weight
    are_named = min(top.named, rival.named) > FULL
    if (
        (top.is_literal and not rival.is_literal)
        or rival.slug in steps[top.slug].parts
        or top.slug in steps[rival.slug].parts
        or (are_named and longer > WORD and top.covered > FIRM)
    ):
        return 0.0
    if _is_exact(top) and _is_exact(rival) and top.told > rival.told:
        return 0.0 if longer > -WORD else GAP
    if _is_exact(top) > _is_exact(rival) or (
        top.named > FULL and top.is_verb_said and not rival.is_verb_said
    ):
        return EXACT_GAP
    # A reading that uses two more of the slots said leaves less of the sentence unexplained.
    uses_more = top.told > rival.told and top.covered > rival.covered + MORE
    if top.named > rival.named + 0.3 or top.told >= rival.told + 2 or uses_more:
        return GAP
    least = RISKY_GAP if do_differ_in_risk(steps[top.slug], steps[rival.slug]) else GAP
    is_firm = top.score >= FIRM or (top.covered > FULL and rival.covered < PARTLY)
    return least if is_firm else 1.5 * least


def with_the_closer_part_first(
    ranked: Sequence[Candidate], steps: Mapping[str, Step]
) -> list[Candidate]:
    """A step that is several gives way to one of its own parts that was named by more.

    Taking the whole asks for its parts anyway; *supinator jerk, both arms* has said which. Where
    all that was said names the part and the whole (*inspect chest*), it is the whole.
    """
    if not ranked:
        return []
    top = ranked[0]
    wholes = [one for one in ranked[1:] if one.is_literal and top.slug in steps[one.slug].parts]
    if wholes and top.is_literal:
        return [wholes[0], *(one for one in ranked if one is not wholes[0])]
    closer = [
        one
        for one in ranked[1:]
        if one.slug in steps[top.slug].parts
        and one.named > FULL
        and top.score - one.score < RISKY_GAP
        and one.name_weight > top.name_weight
        and not top.is_literal
    ]
    return [*closer[:1], *(one for one in ranked if one not in closer[:1])]


def _is_exact(candidate: Candidate) -> bool:
    return candidate.named > FULL and candidate.covered > FULL


def do_differ_in_risk(one: Step, two: Step) -> bool:
    """Whether taking one for the other would cost or hurt, not merely surprise."""
    if abs(one.price - two.price) > 1.5 or abs(one.discomfort - two.discomfort) > 1:
        return True
    if (Need.CHAPERONE in one.needs) != (Need.CHAPERONE in two.needs):
        return True
    acts = {Method.TREAT, Method.INVESTIGATION}
    return one.method != two.method and bool(acts & {one.method, two.method})


def confidence(ranked: Sequence[Candidate], place: int = 0) -> float:
    """Score of the candidate at ``place``, lowered by how near its strongest rival is; 0-1."""
    this = ranked[place]
    rivals = [other.score for other in ranked if other.slug != this.slug]
    lead = this.score - max(rivals, default=0.0)
    trust = 0.6 + 0.4 * min(1.0, max(0.0, lead) / 0.2)
    return round(min(1.0, max(0.0, this.score)) * trust, 3)
