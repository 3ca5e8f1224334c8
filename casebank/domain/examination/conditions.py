"""The small language in which a case says which technique shows a sign.

A condition is one line for one slot::

    apex | axilla        one of these values
    not supine           anything but these (also ``not supine | sitting``)
    >= firm              this or more, on a graded slot (also ``<=``)
    *                    anything

A technique meets a mapping of conditions when it meets every one of them. A slot the step does
not take fails every condition but ``*``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from casebank.domain.examination.model import Catalogue, Step, Technique

Conditions = Mapping[str, str]


def meets(technique: Technique, conditions: Conditions, catalogue: Catalogue) -> bool:
    """Whether the (full) technique meets every condition."""
    return all(
        _meets_one(slot, technique.get(slot), condition, catalogue)
        for slot, condition in conditions.items()
    )


def _meets_one(slot: str, value: str | None, condition: str, catalogue: Catalogue) -> bool:
    condition = condition.strip()
    if condition == "*":
        return True
    if value is None:
        return False
    if condition[:2] in (">=", "<="):
        return _meets_rank(slot, value, condition, catalogue)
    if condition.startswith("not "):
        return value not in _options(condition[4:])
    return value in _options(condition)


def _options(text: str) -> set[str]:
    return {option.strip() for option in text.split("|")}


def _meets_rank(slot: str, value: str, condition: str, catalogue: Catalogue) -> bool:
    have, want = catalogue.rank(slot, value), catalogue.rank(slot, condition[2:].strip())
    if have is None or want is None:
        return False
    return have >= want if condition.startswith(">=") else have <= want


def condition_problems(conditions: Conditions, step: Step, catalogue: Catalogue) -> Iterator[str]:
    """Why these conditions can never be asked of this step, a sentence each."""
    for slot, condition in conditions.items():
        taken = step.slot(slot)
        if taken is None:
            yield f"{step.slug} takes no {slot}"
            continue
        graded = condition.strip()[:2] in (">=", "<=")
        for value in sorted(named_values(condition)):
            if value not in taken.values:
                yield f"{step.slug} has no {slot} {value!r}; it has {', '.join(taken.values)}"
            elif graded and catalogue.rank(slot, value) is None:
                yield f"{slot} {value!r} is not graded, so {condition[:2]} cannot be asked of it"


def named_values(condition: str) -> set[str]:
    """The slot values a condition names."""
    condition = condition.strip()
    if condition == "*":
        return set()
    for prefix in (">=", "<=", "not "):
        if condition.startswith(prefix):
            return _options(condition[len(prefix) :])
    return _options(condition)


def in_words(conditions: Conditions, catalogue: Catalogue) -> str:
    """The conditions as a reader says them: "apex or axilla, rolled onto the left side"."""
    return ", ".join(
        one_in_words(slot, text, catalogue) or f"any {slot}" for slot, text in conditions.items()
    )


def one_in_words(slot: str, condition: str, catalogue: Catalogue) -> str:
    """One condition with the lexicon's labels; empty where anything goes."""
    condition = condition.strip()
    if condition == "*":
        return ""
    prefix = next((p for p in PREFIXES if condition.startswith(p)), "")
    listed = [part.strip() for part in condition[len(prefix) :].split("|")]
    known = (catalogue.values.get((slot, slug)) for slug in listed)
    labels = [value.label if value else slug for value, slug in zip(known, listed, strict=True)]
    return PREFIXES.get(prefix, "{}").format(" or ".join(labels))


PREFIXES = {"not ": "not {}", ">=": "{} or more", "<=": "{} or less"}
