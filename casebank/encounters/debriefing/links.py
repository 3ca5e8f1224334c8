"""The way back: for each entry of the sheet, the places of the debrief that speak of it."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.encounters.debriefing.shapes import Debrief

OWN_SECTIONS = ("economy", "order")
Links = dict[int, list[tuple[str, str]]]


def links_of(debrief: Debrief) -> Links:
    """Entry to (anchor, word) pairs, in the order of the page."""
    links: Links = {}
    for seq, anchor, word in _all(debrief):
        links.setdefault(seq, []).append((anchor, word))
    return links


def _all(debrief: Debrief) -> Iterator[tuple[int, str, str]]:
    yield from _points(debrief)
    yield from ((one.seq, one.anchor, "what it told") for one in debrief.evidence)
    yield from ((one.seq, one.anchor, "technique beside") for one in debrief.side_by_side)
    yield from ((one.seq, one.anchor, "surcharge") for one in debrief.unneeded)
    for pair in debrief.pairs:
        yield from ((seq, pair.anchor, "order") for seq in (pair.before_seq, pair.after_seq))
    for comment in debrief.comments:
        if comment.entry_seq is not None:
            yield comment.entry_seq, f"comment-{comment.pk}", "comment"


def _points(debrief: Debrief) -> Iterator[tuple[int, str, str]]:
    """Points of the mark, but for domains whose points stand in sections of their own."""
    for domain in debrief.domains:
        if domain.slug not in OWN_SECTIONS:
            for point in domain.points:
                yield from ((seq, point.anchor, domain.slug) for seq in point.entries)
