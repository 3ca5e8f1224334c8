"""The three published cases, compiled, and the small one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from casebank.domain.casefile.compile import CompiledCase, compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Catalogue
from tests.factories.cases import SMALL_TEXTS, small_document

FIXTURES = Path(__file__).parents[3] / "fixtures"


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return parse_catalogue(
        {path.name: path.read_text("utf-8") for path in (FIXTURES / "catalogue").glob("*.toml")}
    )


@pytest.fixture(scope="session")
def small() -> CompiledCase:
    document = CaseDocument.model_validate(small_document())
    return compile_case(document, parse_catalogue(SMALL_TEXTS))


@pytest.fixture(scope="session")
def published(catalogue: Catalogue) -> list[CompiledCase]:
    return [
        compile_case(CaseDocument.model_validate(json.loads(path.read_text("utf-8"))), catalogue)
        for path in sorted((FIXTURES / "cases").glob("*.json"))
    ]
