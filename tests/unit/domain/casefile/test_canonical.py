"""The canonical form: one spelling for one case, and a schema that is the committed one."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from casebank.domain.casefile.canonical import (
    canonical_json,
    checksum,
    json_schema,
    json_schema_text,
)
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.schema import CaseDocument

ROOT = Path(__file__).parents[4]


def shuffled(value):
    if isinstance(value, dict):
        return {key: shuffled(value[key]) for key in reversed(value)}
    return [shuffled(item) for item in value] if isinstance(value, list) else value


def test_the_order_of_keys_does_not_change_the_canonical_form(good):
    one, two = (CaseDocument.model_validate(raw) for raw in (good, shuffled(good)))
    assert canonical_json(one) == canonical_json(two)
    assert checksum(one) == checksum(two)


def test_a_default_left_out_and_written_out_are_the_same_case(good):
    plain = CaseDocument.model_validate(good)
    good["cautions"] = []
    good["scheme"]["tau"] = 0.05
    assert checksum(CaseDocument.model_validate(good)) == checksum(plain)


def test_the_canonical_form_has_sorted_keys_no_spaces_and_real_letters(good):
    good["patient"]["name"] = "Åse Fjørd"
    text = canonical_json(CaseDocument.model_validate(good))
    assert "Åse Fjørd" in text
    again = json.dumps(json.loads(text), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert text == again


def test_the_canonical_form_is_read_back_as_the_same_document(good, catalogue):
    document = CaseDocument.model_validate(good)
    review = check_case(canonical_json(document), catalogue)
    assert review.document == document
    assert canonical_json(document) == canonical_json(review.document)


def test_the_checksum_is_sha256_of_the_canonical_bytes(good):
    document = CaseDocument.model_validate(good)
    assert checksum(document) == hashlib.sha256(canonical_json(document).encode()).hexdigest()


def test_one_changed_letter_changes_the_checksum(good):
    before = checksum(CaseDocument.model_validate(good))
    good["title"] += "."
    assert checksum(CaseDocument.model_validate(good)) != before


def test_the_schema_names_its_dialect_and_forbids_unknown_fields():
    schema = json_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["additionalProperties"] is False


def test_the_committed_schema_is_the_one_the_code_gives():
    committed = (ROOT / "fixtures" / "case.schema.json").read_text(encoding="utf-8")
    assert committed == json_schema_text()
