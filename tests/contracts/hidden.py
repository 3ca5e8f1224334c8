"""What of a case a student must not meet before asking, and how it is looked for in an answer."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

SHORTEST = 12
"""Shorter sentences, as "Normal.", say nothing of one patient."""


@dataclass(frozen=True)
class Hidden:
    """Sentences to be found anywhere; names to be found as a whole; labels of the truth."""

    sentences: frozenset[str]
    names: frozenset[str]
    truth: frozenset[str]

    def found_in(self, text: str) -> set[str]:
        """Those that stand in this text."""
        return {one for one in self.sentences if plain(one) in text} | {
            one for one in self.names if _as_a_name(one).search(text)
        }

    def truth_in(self, text: str) -> set[str]:
        """The labels of the truth that stand in this text."""
        return {one for one in self.truth if plain(one) in text}


def hidden_of(
    document: Mapping[str, Any], catalogue: Mapping[str, str], truth: Iterable[str]
) -> Hidden:
    """What the document hides; what the catalogue's own texts say as well is no secret."""
    public = plain(" ".join(catalogue.values()))
    sentences = {s for s in _sentences(document) if len(s) >= SHORTEST and plain(s) not in public}
    names = {name for name in _names(document) if f'"{name}"' not in public}
    return Hidden(frozenset(sentences), frozenset(names), frozenset(truth))


def _sentences(document: Mapping[str, Any]) -> Iterator[str]:
    for finding in document["findings"]:
        yield finding["label"]
        yield from (answer["says"] for answer in finding["answers"] if answer.get("says"))
    for stage in document["stages"]:
        yield stage["label"]
        yield stage.get("notice", "")
    scheme = document["scheme"]
    for part in ("essential", "routine", "unsafe", "order"):
        yield from (one["why"] for one in scheme.get(part, ()))
    yield document["teaching"]["summary"]
    yield from document["teaching"]["points"]


def _names(document: Mapping[str, Any]) -> Iterator[str]:
    """Identifiers of findings, stages, wanted steps and outcomes."""
    yield from (stage["id"] for stage in document["stages"])
    yield from (one["id"] for one in document["scheme"]["essential"])
    for finding in document["findings"]:
        yield finding["id"]
        yield from (a["outcome"] for a in finding["answers"] if a.get("outcome"))


def _as_a_name(name: str) -> re.Pattern[str]:
    """The name as a whole: anywhere, or of one word (which is also English) as a value of JSON."""
    whole = re.escape(name)
    several = rf"(?<![\w-]){whole}(?![\w-])"
    return re.compile(several if "-" in name else rf"[:,\[] ?\"{whole}\"")


def plain(text: str) -> str:
    """Text as a reader takes it: entities resolved, JSON escapes and spaces evened, lower case."""
    read = html.unescape(text.replace("\\n", " ").replace('\\"', '"'))
    return re.sub(r"\s+", " ", read).casefold()


def text_of(answer: Any) -> str:
    """Body and headers of an answer as plain text."""
    headers = " ".join(f"{name}: {value}" for name, value in answer.headers.items())
    body = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return plain(f"{headers} {body.decode('utf-8', 'replace')}")
