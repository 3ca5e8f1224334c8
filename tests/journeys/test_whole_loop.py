"""From a document on somebody's desk to a cohort's figures, over HTTP and through people's own pages."""

from __future__ import annotations

import csv
import io
import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from accounts.actions import create_cohort, join_cohort
from tests.factories.browser import Fields
from tests.factories.cases import small_document, small_release
from tests.factories.people import PASSWORD, person

pytestmark = pytest.mark.django_db
LISTENING, NOT_LISTENING = 12, 10
WELL = "listen to the heart at the apex rolled onto the left side"


class Someone:
    """A person at a browser: signs in by the form, reads pages, sends their forms back."""

    def __init__(self, name, role):
        self.user = person(name, role, password=PASSWORD)
        self.browser = Client(enforce_csrf_checks=True)
        self.read(reverse("account_login"))
        self.send(reverse("account_login"), login=self.user.email, password=PASSWORD)

    def read(self, url):
        answer = self.browser.get(url, follow=True)
        assert answer.status_code == 200, (url, answer.status_code)
        return answer.content.decode()

    def send(self, url, *, page="", expect=200, **fields):
        """Post, with the token and the hidden fields of ``page``; gives the page one lands on."""
        form = Fields(self.read(page)).sent if page else {}
        token = {"csrfmiddlewaretoken": self.browser.cookies["csrftoken"].value}
        answer = self.browser.post(url, form | fields | token, follow=True)
        assert answer.status_code == expect, answer.content.decode()
        self.url = answer.request["PATH_INFO"]
        return answer.content.decode()


def test_from_the_authors_desk_to_the_tutors_table(run_jobs):
    small_release()
    author, reviewer = Someone("Ada Author", "author"), Someone("Rea Reviewer", "reviewer")
    version = write_and_submit(author)
    return_with_a_comment(reviewer, version)
    revise_and_resubmit(author, version)
    approve(reviewer, version)
    publish(author, version)
    student = Someone("Sol Student", "student")
    examine_conclude_and_read_the_debrief(student)
    tutor = Someone("Tam Tutor", "tutor")
    others = a_cohort_of(tutor, student)
    for number, other in enumerate(others):
        examine_quickly(other, listens=number < LISTENING - 1)
    read_the_report(tutor, run_jobs)


def write_and_submit(author):
    text = json.dumps(small_document(opening="She sits.")).encode()
    page = author.send(reverse("cases:upload"), file=SimpleUploadedFile("case.json", text))
    version = re.fullmatch(r"/cases/versions/(.*)/", author.url)[1]
    assert "Breathless on the stairs" in page
    section = reverse("cases:section", args=[version, "opening"])
    author.send(section, page=section, opening="She sits upright by the window.")
    page = move(author, version, "submit")
    assert "Submitted" in page
    return version


def move(author, version, name):
    here = reverse("cases:version", args=[version])
    return author.send(reverse("cases:move", args=[version]), page=here, name=name)


def return_with_a_comment(reviewer, version):
    assert version in reviewer.read(reverse("reviews:queue"))
    reading = reverse("reviews:reading", args=[version])
    assert "She sits upright by the window." in reviewer.read(reading)
    comment = reverse("reviews:comment", args=[version])
    reviewer.send(comment, page=reading, path="opening", text="Say how she breathes.")
    decide(reviewer, version, "return", comment="Nearly there.")
    assert version not in reviewer.read(reverse("reviews:queue")).split("before", 1)[0]


def decide(reviewer, version, name, comment=""):
    reading = reverse("reviews:reading", args=[version])
    decision = reverse("reviews:move", args=[version])
    return reviewer.send(decision, page=reading, name=name, comment=comment)


def revise_and_resubmit(author, version):
    page = author.read(reverse("cases:version", args=[version]))
    assert "Say how she breathes." in page
    assert "Nearly there." in page
    move(author, version, "revise")
    section = reverse("cases:section", args=[version, "opening"])
    author.send(section, page=section, opening="She sits upright, short of breath.")
    move(author, version, "submit")


def approve(reviewer, version):
    reading = reviewer.read(reverse("reviews:reading", args=[version]))
    assert "She sits upright, short of breath." in reading
    decide(reviewer, version, "approve")


def publish(author, version):
    somebody = Someone("Early Bird", "student")
    assert "Breathless on the stairs" not in somebody.read(reverse("encounters:patients"))
    assert "Published" in move(author, version, "publish")
    assert "Breathless on the stairs" in somebody.read(reverse("encounters:patients"))


def begin(student):
    listed = student.read(reverse("encounters:patients"))
    student.send(re.search(r'action="(/patients/[^"]*/begin)"', listed)[1])
    return student.url


def ask(student, sheet, text):
    return student.send(f"{sheet}ask", page=sheet, text=text)


def examine_conclude_and_read_the_debrief(student):
    sheet = begin(student)
    assert "She sits upright, short of breath." in student.read(sheet)
    assert "A blowing sound through systole." not in student.read(sheet)
    ask(student, sheet, "wash my hands")
    page = ask(student, sheet, WELL)
    assert "A blowing sound through systole." in page
    fields = {"p-mitral-regurgitation": "80", "add": "aortic stenosis"}
    assert "Aortic stenosis" in student.send(f"{sheet}differential", page=sheet, **fields)
    page = student.send(
        f"{sheet}conclude",
        page=f"{sheet}conclude",
        summary="A blowing sound through systole at the apex.",
        plan="An echocardiogram.",
        **{"p-mitral-regurgitation": "90", "p-aortic-stenosis": "5"},
    )
    assert student.url == f"{sheet}debrief"
    assert "Mitral regurgitation" in page
    assert "Roll the patient." in page
    assert student.send(f"{sheet}ask", text="feel apex", expect=422)


def a_cohort_of(tutor, student):
    cohort = create_cohort(slug="year", name="The year", by=None)
    join_cohort(cohort=cohort, user=tutor.user, role="tutor", by=None)
    size = LISTENING + NOT_LISTENING - 1
    others = [Someone(f"Other {number}", "student") for number in range(size)]
    for one in (student, *others):
        join_cohort(cohort=cohort, user=one.user, role="student", by=None)
    return others


def examine_quickly(student, *, listens):
    sheet = begin(student)
    ask(student, sheet, WELL if listens else "feel apex with firm pressure")
    fields = {"p-mitral-regurgitation": "60", "summary": "Seen."}
    student.send(f"{sheet}conclude", page=f"{sheet}conclude", **fields)


def read_the_report(tutor, run_jobs):
    tutor.read(reverse("analytics:reports"))
    waiting = tutor.send(reverse("analytics:ask", args=["year"]))
    assert "progress" in waiting
    assert run_jobs() == 1
    assert "Essential steps" in tutor.read(tutor.url)
    (row,) = csv.DictReader(io.StringIO(tutor.read(f"{tutor.url}.csv")))
    assert row["case"] == "Breathless on the stairs"
    assert row["students"] == str(LISTENING + NOT_LISTENING)
    share = LISTENING / (LISTENING + NOT_LISTENING)
    assert float(row["facility"]) == pytest.approx(share)
    assert float(row["facility low"]) < share < float(row["facility high"])
