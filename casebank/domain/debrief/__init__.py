"""What a debrief explains, worked out from a replayed record; pure, and free of wording for pages.

Owns the trajectory of belief, what was missed, how signs are found, what counted, what would have
helped next. Does not mark (see ``casebank.domain.marking``) and draws nothing.
"""
