"""The debrief as a document: the same bytes for the same debrief, tagged, and no source from data."""

from __future__ import annotations

import re
import zlib

import pytest
from django.urls import reverse

from casebank.domain.encounter.model import Request
from casebank.encounters import actions
from casebank.encounters.debriefing.actions import adjust, comment
from casebank.encounters.pdf import pdf_of
from casebank.encounters.pdf.content import content_of
from casebank.encounters.pdf.printing import printed
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
EVIL = '#panic("ran") $x$ #read("/etc/passwd") <label> @ref \\ "quoted" // not a comment'


@pytest.fixture
def ended(people, encounter):
    asked(encounter, Request("heart-auscultate"), CLEAN, CLEAN, WELL, by=people.student)
    return concluded(encounter, by=people.student)


def pages(pdf):
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def streams(pdf):
    """Every stream of the document, unpacked where it is packed."""
    for raw in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.S):
        try:
            yield zlib.decompress(raw)
        except zlib.error:
            yield raw


def test_the_document_is_the_same_byte_for_byte(ended):
    first = pdf_of(ended)
    assert first.startswith(b"%PDF-1.7")
    assert pdf_of(ended) == first


def test_it_has_title_language_and_tags_for_readers(ended):
    pdf = pdf_of(ended)
    whole = pdf + b"".join(streams(pdf))
    assert b"/Lang(en-GB)" in whole
    assert b"/MarkInfo" in whole
    assert b"/StructTreeRoot" in whole
    assert b"Debrief: Breathless on the stairs" in whole
    assert b"pdfuaid:part" in whole or b"pdfuaid" in whole


def test_the_caution_is_part_of_the_content_and_of_every_page(ended):
    content = content_of(ended)
    assert content["caution"].startswith("For teaching. Fictional patients.")
    content["sheet"] = content["sheet"] * 40
    many = printed(content)
    assert pages(many) >= 3
    # Each page draws its own foot; without the words the document is smaller by them on each page.
    without = printed({**content, "caution": ""})
    assert pages(without) == pages(many)
    assert len(list(streams(many))) >= len(list(streams(without)))
    drawn = sum(len(one) for one in streams(many)) - sum(len(one) for one in streams(without))
    assert drawn > pages(many) * 100


def test_what_people_wrote_is_set_as_text_and_never_run(people, encounter):
    actions.ask(
        encounter_id=encounter.pk,
        say=lambda *_: [Request("hand-hygiene", {}, EVIL)],
        by=people.student,
    )
    ended, _ = actions.conclude(
        encounter_id=encounter.pk,
        probabilities={"mitral-regurgitation": 0.9},
        summary=EVIL,
        plan=EVIL,
        by=people.student,
    )
    cohort_of("first", tutors=[people.tutor], students=[people.student])
    comment(encounter=ended, text=EVIL, by=people.tutor)
    adjust(encounter=ended, total=50, reason=EVIL, by=people.tutor)
    content = content_of(ended)
    assert content["comments"][0]["text"] == EVIL
    assert content["adjusted"]["reason"] == EVIL
    assert pages(pdf_of(ended)) >= 2


def test_the_document_says_what_the_page_says(ended):
    content = content_of(ended)
    assert content["truth"] == ["Mitral regurgitation"]
    assert [one["interval"] for one in content["beliefs"]] == ["not known", "not known"]
    assert content["unneeded"][0]["surcharge"] == f"{ended.surcharge:.2f}"
    assert [one["kept"] for one in content["pairs"]] == [False]
    assert len(content["sheet"]) == 5


def test_the_student_takes_it_away_and_others_do_not_find_it(client, people, ended):
    url = reverse("encounters:debrief-pdf", args=[ended.pk])
    client.force_login(people.student)
    answer = client.get(url)
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Content-Disposition"].startswith("attachment")
    assert "no-store" in answer.headers["Cache-Control"]
    for who in (people.tutor, people.author):
        client.force_login(who)
        assert client.get(url).status_code == 404


def test_an_open_encounter_has_no_document(student, encounter):
    answer = student.get(reverse("encounters:debrief-pdf", args=[encounter.pk]))
    assert answer.url == reverse("encounters:sheet", args=[encounter.pk])
