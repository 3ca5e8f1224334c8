"""The names of the catalogue's steps as keys, ready to be compared with what a student says.

Owns what of a name counts. The search structure over them is ``stepindex``'s.
"""

from __future__ import annotations

from casebank.domain.examination.lexicon import COMMON, EMPTY, KEPT, NAMING, VERBS
from casebank.domain.examination.model import Step
from casebank.domain.examination.tokens import literal, marked_repeats, spoken_keys

Names = dict[tuple[str, ...], frozenset[int]]
"""What is said to the numbers of the steps that it names."""


def texts_of(step: Step) -> list[tuple[str, ...]]:
    """The keys of each name of the step, as they would be read from a student; label first."""
    return [spoken_keys(text) for text in (step.label, *step.synonyms)]


def names_of(texts: list[tuple[str, ...]]) -> list[frozenset[str]]:
    """Each name without empty words; a key said twice counts as two.

    A name of nothing but a verb, or one everyday word, and empty words (*press and let go*, *see
    two of things*) is only known literally.
    """
    marked = [_telling_keys(text) for text in texts]
    return list(
        dict.fromkeys(
            frozenset(name)
            for name, text in zip(marked, texts, strict=True)
            if not _is_everyday(name) or name == list(text)
        )
    )


def _is_everyday(name: list[str]) -> bool:
    for key in name:
        if key not in VERBS and key not in COMMON and key not in KEPT and not key.isdigit():
            return False
    beside = [key for key in name if key not in VERBS]
    if len(beside) == 1 and beside[0] in COMMON:
        return True
    return all(key in VERBS or key in KEPT or key.isdigit() for key in name)


def _telling_keys(text: tuple[str, ...]) -> list[str]:
    """A name without empty words; a name of one word keeps those that make it more than that."""
    if len(text) > 1 and EMPTY.isdisjoint(text) and len(set(text)) == len(text):
        return list(text)
    marked = marked_repeats(text)
    content = [mark for key, mark in zip(text, marked, strict=True) if key not in EMPTY]
    if len(content) != 1 or content[0] in VERBS:
        return content
    return [
        mark for key, mark in zip(text, marked, strict=True) if key not in EMPTY or mark in NAMING
    ]


def literals_of(texts: list[list[tuple[str, ...]]]) -> tuple[Names, Names]:
    """Whole names as they are said, and without their empty words, to the steps they name."""
    exact: Names = {}
    loose: Names = {}
    for number, names in enumerate(texts):
        alone = frozenset((number,))
        for said in names:
            short = literal(said)
            _add(exact, said, alone)
            if len(short) > 1 or short == said or not _is_special(said, short):
                _add(loose, short, alone)
    return exact, loose


def _is_special(said: tuple[str, ...], short: tuple[str, ...]) -> bool:
    return bool(NAMING.intersection(said)) or _is_everyday(list(short))


def _add(names: Names, said: tuple[str, ...], alone: frozenset[int]) -> None:
    """Most names are one step's alone, so that its set is shared and not copied."""
    if said:
        names[said] = names[said] | alone if said in names else alone
