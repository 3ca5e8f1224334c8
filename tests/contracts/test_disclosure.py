"""Nothing of a patient reaches a student who has not asked for it: every page, every API answer."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from django.urls import reverse

from casebank.cases.actions import create_case, move
from casebank.cases.library import compiled_version, current_release
from casebank.domain.encounter.engine import replay
from casebank.encounters.actions import begin
from casebank.encounters.queries import log_of
from tests.contracts.asking import addresses, rows
from tests.contracts.hidden import hidden_of, plain, text_of
from tests.factories.browser import signed_in
from tests.factories.people import cast, person

pytestmark = pytest.mark.django_db
FILES = sorted((Path(__file__).parents[2] / "fixtures" / "cases").glob("*.json"))
REQUESTS = 10
MEDIA = re.compile(r'"([^"]*/media/[^"]+)"')
PROBES = ("?q=heart&text=listen+to+the+heart", "")


class Bedside:
    """A student with one of the published patients, and every address a student can try."""

    def __init__(self, document):
        people = cast()
        version = create_case(document=document, by=people.author)
        for name, by in (
            ("submit", people.author),
            ("approve", people.reviewer),
            ("publish", people.author),
        ):
            version = move(version=version, name=name, by=by)
        self.case = compiled_version(version.pk)
        self.encounter = begin(version=version, by=people.student)
        self.author, self.browser = people.author, signed_in(people.student)
        self.neighbour = signed_in(person("Sia Student", "student"))
        labels = [self.case.catalogue.diagnoses[one].label for one in document["truth"]]
        self.hidden = hidden_of(document, current_release().texts, labels)
        step = document["findings"][0]["step"]
        self.things = {
            "nothing": {},
            "step": {"slug": step},
            "system": {"slug": self.case.catalogue.steps[step].system},
            "region": {"slug": self.case.catalogue.steps[step].region.replace(" ", "-")},
            "encounter": {
                "pk": self.encounter.pk, "slug": step, "seq": 1, "index": 0,
                "token": "forged", "ending": "wav",
            },
            "published": {"pk": version.pk, "version": version.pk, "case": version.case_id,
                          "number": 1, "place": 0, "slug": "opening"},
        }  # fmt: skip

    def urls(self, *things):
        parts = addresses()
        for row in rows():
            if row.method == "GET" and row.thing in things:
                have = {part: self.things[row.thing][part] for part in parts[row.name]}
                yield reverse(row.name, kwargs=have)

    def read(self, *things, probes=PROBES):
        """Each address with its answer's text, as a page and as a fragment."""
        for url in self.urls(*things):
            for probe in probes if "at/" in url or "suggest" in url else probes[-1:]:
                for headers in ({}, {"HX-Request": "true"}):
                    answer = self.browser.get(url + probe, headers=headers)
                    yield f"{url}{probe} {headers}", text_of(answer)

    def listen(self, page):
        """Every sound and picture that this page leads to, as headers and text."""
        for address in sorted(set(MEDIA.findall(self.browser.get(page).content.decode()))):
            assert self.neighbour.get(address).status_code == 404
            answer = self.browser.get(address)
            assert answer.status_code == 200, address
            yield address, text_of(answer)

    def allowed(self):
        """What the domain, asked again, shows for the log so far."""
        _, payloads = replay(self.case, log_of(self.encounter))
        shown = [text for p in payloads for text in (*p["shown"], p["notice"], *p["flags"])]
        return plain(" ".join([*shown, *(p["charge"]["words"] for p in payloads)]))

    def ask(self, step):
        url = reverse("api:requests", args=[self.encounter.pk])
        return self.browser.post(url, {"step": step}, content_type="application/json")

    def failing(self):
        """Answers to what cannot be done, which are answers too."""
        at = [self.encounter.pk]
        yield self.browser.post(reverse("encounters:ask", args=at), {"text": "florble"})
        yield self.browser.post(reverse("encounters:ask", args=at), {"step": '{"step": "nope"}'})
        yield self.browser.post(reverse("encounters:differential", args=at), {"add": "the vapours"})
        yield self.browser.post(reverse("encounters:conclude", args=at), {})
        yield self.ask("no-such-step")
        yield self.browser.get("/patients/nowhere")
        yield self.browser.get("/api/v1/nowhere")


@pytest.fixture(params=FILES, ids=lambda file: file.stem)
def bedside(request, db):
    from django.core.management import call_command

    call_command("load_catalogue", verbosity=0)
    return Bedside(json.loads(request.param.read_text(encoding="utf-8")))


def test_the_search_finds_everything_in_the_authors_own_document(bedside):
    author = signed_in(bedside.author)
    text = text_of(author.get(reverse("cases:download", args=[bedside.things["published"]["pk"]])))
    assert bedside.hidden.found_in(text) == bedside.hidden.sentences | bedside.hidden.names


def test_before_the_first_request_no_page_tells_anything(bedside):
    assert len(bedside.hidden.sentences) > 40
    read = dict(bedside.read("nothing", "step", "system", "region", "published", "encounter"))
    read |= {f"failing {n}": text_of(one) for n, one in enumerate(bedside.failing())}
    told = {url: found for url, text in read.items() if (found := bedside.hidden.found_in(text))}
    assert told == {}
    assert [url for url, text in read.items() if MEDIA.search(text)] == []
    assert len(read) > 50


def test_the_pages_about_the_patient_do_not_name_what_is_true(bedside):
    pages = [reverse("home"), reverse("encounters:patients"), reverse("api:patients")]
    names = ("encounters:sheet", "encounters:conclude", "api:encounter", "api:debrief")
    pages += [reverse(name, args=[bedside.encounter.pk]) for name in names]
    texts = {url: text_of(bedside.browser.get(url)) for url in pages}
    assert {url: t for url, text in texts.items() if (t := bedside.hidden.truth_in(text))} == {}


def test_each_request_shows_what_was_asked_for_and_nothing_else(bedside):
    steps = list(dict.fromkeys(one.step for one in bedside.case.document.findings))[:REQUESTS]
    sheet, shown = reverse("encounters:sheet", args=[bedside.encounter.pk]), set()
    for step in steps:
        answer = bedside.ask(step)
        assert answer.status_code == 201, answer.content
        allowed = bedside.allowed()
        answers = {"the answer": text_of(answer), **dict(bedside.read("encounter", probes=[""]))}
        answers[sheet] = text_of(bedside.browser.get(sheet))
        answers |= dict(bedside.listen(sheet))
        for url, text in answers.items():
            found = bedside.hidden.found_in(text)
            assert {one for one in found if plain(one) not in allowed} == set(), url
        shown |= {s for s in bedside.hidden.sentences if plain(s) in allowed}
        assert shown <= bedside.hidden.found_in(answers[sheet])
    assert len(shown) >= 3
