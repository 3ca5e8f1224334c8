"""Whether anything a student reads before asking names a hypothesis, or a finding's words do."""

from __future__ import annotations

import re
from collections.abc import Iterator

from casebank.domain.casefile.problems import Problem, error, warning
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import Catalogue, Diagnosis

TELLING_LETTERS = 6
"""A word of the true diagnosis this long or longer gives it away in a title."""


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Errors where the truth is named to the student beforehand, warnings for lesser leaks."""
    for item in document.hypotheses:
        diagnosis = catalogue.diagnoses.get(item.diagnosis)
        if diagnosis is None:
            continue
        is_true = item.diagnosis in document.truth
        yield from _beforehand(document, diagnosis, is_true=is_true)
        yield from _in_findings(document, diagnosis)
        if is_true:
            yield from _telling_words(document, diagnosis)


def _beforehand(
    document: CaseDocument, diagnosis: Diagnosis, *, is_true: bool
) -> Iterator[Problem]:
    make = error if is_true else warning
    for path, text in _seen_first(document):
        name = named_in(text, diagnosis)
        if name is not None:
            yield make(path, f"names a hypothesis ({name!r}) to the student; say it neutrally")


def _seen_first(document: CaseDocument) -> Iterator[tuple[str, str]]:
    yield "slug", document.slug
    yield "title", document.title
    yield "patient.name", document.patient.name
    yield "patient.occupation", document.patient.occupation
    yield "opening", document.opening
    for place, stage in enumerate(document.stages):
        yield f"stages[{place}].notice", stage.notice


def _in_findings(document: CaseDocument, diagnosis: Diagnosis) -> Iterator[Problem]:
    for place, finding in enumerate(document.findings):
        for number, answer in enumerate(finding.answers):
            name = named_in(answer.says, diagnosis)
            if name is not None:
                yield warning(
                    f"findings[{place}].answers[{number}].says",
                    f"names a hypothesis ({name!r}); describe what is perceived instead",
                )


def _telling_words(document: CaseDocument, diagnosis: Diagnosis) -> Iterator[Problem]:
    telling = {word for word in _words(diagnosis.label).split() if len(word) >= TELLING_LETTERS}
    for path, text in (("slug", document.slug), ("title", document.title)):
        if named_in(text, diagnosis) is None:
            for word in sorted(telling & set(_words(text).split())):
                yield warning(path, f"holds {word!r}, a word of the answer; choose another")


def named_in(text: str, diagnosis: Diagnosis) -> str | None:
    """The first name of the diagnosis the text holds as whole words, or None.

    Abbreviations (up to three letters, or in capitals) must stand in capitals: "as" is a word.
    """
    plain = f" {_words(text)} "
    for name in (diagnosis.label, diagnosis.slug, *diagnosis.synonyms):
        if _is_abbreviation(name):
            if re.search(rf"(?<!\w){re.escape(name.upper())}(?!\w)", text):
                return name
        elif f" {_words(name)} " in plain:
            return name
    return None


def _is_abbreviation(name: str) -> bool:
    return len(name) <= 3 or (len(name) <= 5 and name.upper() == name)


def _words(text: str) -> str:
    """Lower-case words parted by single spaces, everything else dropped."""
    return " ".join(re.findall(r"\w+", text.casefold()))
