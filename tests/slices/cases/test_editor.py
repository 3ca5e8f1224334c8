"""The editor: what is typed is kept, stale pages tell, and a case is written without JSON."""

from __future__ import annotations

import pytest

from casebank.cases.actions import save_draft
from casebank.cases.models import CaseVersion
from casebank.cases.sections import SECTIONS
from casebank.reviews.actions import add_comment, decide
from tests.factories.browser import Fields
from tests.factories.cases import (
    draft,
    small_document,
    submitted,
)
from tests.slices.cases.author_pages import page, stored

pytestmark = pytest.mark.django_db


# ---- the editor


@pytest.mark.parametrize("slug", [s.slug for s in SECTIONS if s.editor] + ["finding"])
def test_sending_a_page_back_as_it_came_changes_nothing(people, ada, slug):
    version = draft(people.author)
    url = page("finding", version.pk, 0) if slug == "finding" else page("section", version.pk, slug)
    sent = Fields(ada.get(url).content.decode()).sent
    answer = ada.post(url, sent)
    assert answer.status_code == 302, answer.content.decode()
    kept = stored(version).document
    changed = {name for name in kept if kept[name] != small_document().get(name)}
    assert changed <= {"scheme"}  # the page of weights writes the default of tau out, if anything
    assert kept["scheme"] | {"tau": 0.05} == small_document()["scheme"] | {"tau": 0.05}


def test_what_cannot_be_understood_is_kept_and_the_case_check_says_so(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "opening")
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(url, sent | {"age": "about sixty"})
    assert stored(version).document["patient"]["age"] == "about sixty"
    answer = ada.get(url).content.decode()
    assert 'value="about sixty"' in answer
    assert "Patient, age" in answer


def test_a_case_is_written_from_nothing_to_submission_in_the_browser(people, ada):
    answer = ada.post(page("new"), {"title": "Short of breath"})
    version = CaseVersion.objects.get()
    assert answer["Location"] == page("section", version.pk, "opening")

    def write(slug, **typed):
        url = page("section", version.pk, slug)
        sent = Fields(ada.get(url).content.decode()).sent
        assert ada.post(url, sent | typed).status_code == 302

    write(
        "opening", name="Vera Quill", age="67", sex="female", occupation="bookbinder",
        opening="She sits upright.",
    )  # fmt: skip
    first = {
        "hypotheses-0-diagnosis": "Mitral regurgitation",
        "hypotheses-0-prior": "62.5 %",
        "hypotheses-0-is_true": "on",
        "complaint": "breathlessness",
        "setting": "a clinic",
        "prior_source": "illustrative",
        "add": "hypotheses",
    }
    write("hypotheses", **first)
    url = page("section", version.pk, "hypotheses")
    sent = Fields(ada.get(f"{url}?add=hypotheses").content.decode()).sent
    typed = {"hypotheses-1-diagnosis": "aortic-stenosis", "hypotheses-1-prior": "37,5"}
    ada.post(url, sent | typed)

    found = ada.get(page("new-finding", version.pk), {"q": "listen murmur"}).content.decode()
    assert "Listen to the heart" in found
    answer = ada.post(page("new-finding", version.pk), {"step": "heart-auscultate"})
    sent = Fields(ada.get(answer["Location"]).content.decode()).sent
    ada.post(answer["Location"], sent | {
        "label": "Murmur", "answers-0-when-site": "apex", "answers-0-says": "A murmur.",
        "answers-0-outcome": "present", "add": "answers",
        "source": "illustrative", "targets": ["mitral-regurgitation"],
        "positive": "5,4", "negative": "0.3",
    })  # fmt: skip
    sent = Fields(ada.get(answer["Location"] + "?add=answers").content.decode()).sent
    ada.post(answer["Location"], sent | {"answers-1-strength": "absent"})

    write(
        "essential",
        **{
            "essential-0-step": "Listen to the heart",
            "essential-0-why": "The murmur decides.",
            "essential-0-when": "site: apex",
        },
    )
    write("weights", minutes="15", surcharge_budget="12")
    write("teaching", summary="A leaking valve.", points="Listen.\n\nListen again.")

    answer = ada.get(page("version", version.pk)).content.decode()
    assert "Nothing to correct." in answer
    sent = {"name": "submit", "lock": stored(version).lock}
    ada.post(page("move", version.pk), sent)
    assert stored(version).state == "submitted"
    document = stored(version).document
    assert document["slug"] == "short-of-breath"
    assert document["hypotheses"][1] == {"diagnosis": "aortic-stenosis", "prior": 0.375}
    assert document["teaching"]["points"] == ["Listen.", "Listen again."]


def test_saving_and_adding_shows_one_blank_row(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "essential")
    sent = Fields(ada.get(url).content.decode()).sent
    answer = ada.post(url, sent | {"add": "essential"})
    assert answer["Location"] == f"{url}?add=essential#essential-new"
    assert 'id="essential-new"' in ada.get(f"{url}?add=essential").content.decode()
    assert 'id="essential-new"' not in ada.get(url).content.decode()


def test_rows_are_removed_and_moved(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "stages")
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(url, sent | {"stages-1-ORDER": "1"})
    assert [stage["id"] for stage in stored(version).document["stages"]] == ["later", "start"]
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(url, sent | {"stages-0-DELETE": "on"})
    assert [stage["id"] for stage in stored(version).document["stages"]] == ["start"]


def test_correcting_a_diagnosis_keeps_the_likelihoods_given_for_it(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "hypotheses")
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(url, sent | {"hypotheses-0-diagnosis": "something else"})
    document = stored(version).document
    assert document["truth"] == ["something else"]
    assert document["findings"][0]["evidence"]["ratios"]["targets"] == ["something else"]
    assert document["findings"][1]["evidence"]["table"][0]["given"]["something else"] == 0.55


def test_a_stale_page_shows_what_changed_and_keeps_what_was_typed(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "opening")
    sent = Fields(ada.get(url).content.decode()).sent
    save_draft(
        version=version, document=small_document(opening="Theirs."), lock=1, by=people.author
    )
    answer = ada.post(url, sent | {"opening": "Mine."})
    html = answer.content.decode()
    assert answer.status_code == 409
    assert "Theirs." in html
    assert Fields(html).sent["opening"] == "Mine."
    assert stored(version).document["opening"] == "Theirs."
    assert ada.post(url, Fields(html).sent).status_code == 302
    assert stored(version).document["opening"] == "Mine."


def test_a_finding_removed_meanwhile_comes_back_with_what_was_typed(people, ada):
    version = draft(people.author)
    url = page("finding", version.pk, 1)
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(page("remove-finding", version.pk, 1), {"lock": 1})
    assert len(stored(version).document["findings"]) == 1
    answer = ada.post(url, sent | {"label": "Still here"})
    assert answer.status_code == 409
    assert ada.post(url, Fields(answer.content.decode()).sent).status_code == 302
    assert stored(version).document["findings"][1]["label"] == "Still here"
    assert stored(version).document["findings"][1]["id"] == "displaced-apex"


def test_a_finding_that_moved_is_saved_where_it_stands_now(people, ada):
    version = draft(people.author)
    url = page("finding", version.pk, 1)
    sent = Fields(ada.get(url).content.decode()).sent
    ada.post(page("remove-finding", version.pk, 0), {"lock": 1})
    answer = ada.post(url, sent | {"label": "Moved up"})
    assert answer.status_code == 409
    ada.post(url, Fields(answer.content.decode()).sent)
    assert [f["label"] for f in stored(version).document["findings"]] == ["Moved up"]


def test_a_damaged_page_is_refused_and_nothing_is_saved(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "stages")
    answer = ada.post(url, {"lock": 1, "stages-TOTAL_FORMS": "x"})
    assert answer.status_code == 422
    assert stored(version).lock == 1


def test_a_submitted_version_is_shown_but_cannot_be_typed_into(people, ada):
    version = submitted(people.author)
    url = page("section", version.pk, "opening")
    html = ada.get(url).content.decode()
    assert "<fieldset" in html
    assert "cannot be changed" in html
    assert "button--main" not in html
    answer = ada.post(url, Fields(html).sent | {"opening": "Sneaked in."})
    assert answer.status_code == 422
    assert stored(version).document["opening"] != "Sneaked in."


def test_comments_of_reviewers_stand_beside_their_section(people, ada):
    version = submitted(people.author)
    add_comment(version=version, text="Say how long.", path="opening", by=people.reviewer)
    add_comment(version=version, text="Where?", path="findings.murmur", by=people.reviewer)
    decide(version=version, name="return", by=people.reviewer, comment="Nearly there.")
    assert "Say how long." in ada.get(page("section", version.pk, "opening")).content.decode()
    assert "Say how long." not in ada.get(page("section", version.pk, "stages")).content.decode()
    assert "Where?" in ada.get(page("finding", version.pk, 0)).content.decode()
    assert "Where?" not in ada.get(page("finding", version.pk, 1)).content.decode()
    assert "Nearly there." in ada.get(page("version", version.pk)).content.decode()


def test_a_version_that_is_not_fit_says_so_and_is_not_submitted(people, ada):
    ada.post(page("new"), {"title": "Half"})
    version = CaseVersion.objects.get()
    answer = ada.post(page("move", version.pk), {"name": "submit", "lock": 1}, follow=True)
    assert "The case check finds" in answer.content.decode()
    assert stored(version).state == "draft"


def test_the_search_for_a_step_answers_htmx_with_a_fragment(people, ada):
    url = page("new-finding", draft(people.author).pk)
    answer = ada.get(url, {"q": "apex"}, headers={"HX-Request": "true"}).content.decode()
    assert "Feel the apex beat" in answer
    assert "<html" not in answer
