"""The one spelling of a case document, its checksum, and the JSON Schema of all documents."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from casebank.domain.casefile.schema import CaseDocument

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def canonical_json(document: CaseDocument) -> str:
    """Sorted keys, no spaces, characters as they are, defaults written out."""
    plain = document.model_dump(mode="json")
    return json.dumps(
        plain, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
    )


def checksum(document: CaseDocument) -> str:
    """SHA-256 of the canonical JSON in UTF-8, as 64 hexadecimal digits."""
    return hashlib.sha256(canonical_json(document).encode()).hexdigest()


def json_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of a case document, as committed in ``fixtures/``."""
    schema = CaseDocument.model_json_schema(mode="validation")
    return {"$schema": DIALECT, **schema}


def json_schema_text() -> str:
    """The schema as its committed file spells it."""
    return json.dumps(json_schema(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
