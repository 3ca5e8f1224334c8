"""Documents brought as files or text, and taken away again."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from casebank.cases.actions import save_draft
from casebank.cases.models import CaseVersion
from tests.factories.browser import Fields
from tests.factories.cases import (
    draft,
    small_document,
)
from tests.slices.cases.author_pages import page, stored

pytestmark = pytest.mark.django_db


# ---- documents


def upload(client: Client, content: bytes) -> Any:
    return client.post(page("upload"), {"file": SimpleUploadedFile("case.json", content)})


def test_a_document_is_uploaded_and_downloaded_unchanged(people, ada):
    upload(ada, json.dumps(small_document()).encode())
    version = CaseVersion.objects.get()
    answer = ada.get(page("download", version.pk))
    assert json.loads(answer.content) == small_document()
    assert "attachment" in answer["Content-Disposition"]
    assert "breathless" not in answer["Content-Disposition"]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"{", "not valid JSON at line 1"),
        (b"\x89PNG\r\n\x1a\n\xff", "not text in UTF-8"),
        (b"[1]", "must be one JSON object"),
        (b"{" + b" " * 1_000_001 + b"}", "larger than 1 MB"),
        (b'{"stages": 3, "extra": 1}', "must be a list"),
    ],
)
def test_a_file_that_is_no_case_is_refused_with_the_reason(people, ada, content, said):
    answer = upload(ada, content)
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not CaseVersion.objects.exists()


def test_a_refused_file_is_shown_so_that_it_can_be_corrected(people, ada):
    html = upload(ada, b'{"title": "Kept", "extra": 1}').content.decode()
    text = Fields(html).sent["text"]
    assert json.loads(text) == {"title": "Kept", "extra": 1}
    ada.post(page("upload"), {"text": text.replace(', "extra": 1', "")})
    assert CaseVersion.objects.get().title == "Kept"


def test_replacing_a_draft_on_a_stale_page_keeps_the_text(people, ada):
    version = draft(people.author)
    url = page("document", version.pk)
    sent = Fields(ada.get(url).content.decode()).sent
    save_draft(
        version=version, document=small_document(opening="Theirs."), lock=1, by=people.author
    )
    mine = json.dumps(small_document(opening="Mine."))
    answer = ada.post(url, sent | {"text": mine})
    html = answer.content.decode()
    assert answer.status_code == 409
    assert "Theirs." in html
    assert json.loads(Fields(html).sent["text"])["opening"] == "Mine."
    ada.post(url, Fields(html).sent)
    assert stored(version).document["opening"] == "Mine."
