"""What is published about the API and about case documents is complete, valid and up to date."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import call_command
from django.urls import get_resolver, reverse
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.validation import validate_schema

from casebank.domain.casefile.canonical import json_schema_text
from tests.contracts.access_table import TABLE

ROOT = Path(__file__).parents[2]
VERBS = ("get", "post", "put", "patch", "delete")


@pytest.fixture(scope="module")
def schema():
    return SchemaGenerator().get_schema(request=None, public=True)


def operations(schema):
    return {
        (verb.upper(), path): operation
        for path, verbs in schema["paths"].items()
        for verb, operation in verbs.items()
        if verb in VERBS
    }


def test_the_openapi_schema_is_valid_and_gives_no_warning(tmp_path):
    file = tmp_path / "schema.yaml"
    call_command("spectacular", "--validate", "--fail-on-warn", "--file", str(file))
    assert file.read_text().startswith("openapi: 3.1.0")


def test_every_address_and_method_of_the_api_is_described(schema):
    validate_schema(schema)
    described = {(verb, _shape(path)) for verb, path in operations(schema)}
    lines = [line.split() for line in TABLE.splitlines()]
    wanted = {
        (line[0], _shape(_template(line[1])))
        for line in lines
        if len(line) > 1 and line[1].startswith("api:") and line[1] != "api:schema"
    }
    assert described == wanted


def _template(name):
    """The address of that name with {} for each of its parts."""
    prefix, resolver = get_resolver().namespace_dict["api"]
    (pattern, parts), *_ = resolver.reverse_dict.getlist(name.removeprefix("api:"))[0][0]
    return f"/{prefix}" + pattern % dict.fromkeys(parts, "{}")


def _shape(path):
    return re.sub(r"{\w+}", "{}", path)


def test_every_operation_says_what_it_does_what_it_answers_and_how_one_signs_in(schema):
    for place, operation in operations(schema).items():
        assert operation["description"], place
        assert {"token": []} in operation["security"], place
        answers = [answer for code, answer in operation["responses"].items() if code < "300"]
        assert answers, place
        assert all("content" in answer for answer in answers), place


def test_every_post_says_that_it_takes_an_idempotency_key(schema):
    posts = {place: one for place, one in operations(schema).items() if place[0] == "POST"}
    assert posts
    for place, operation in posts.items():
        headers = [one["name"] for one in operation.get("parameters", []) if one["in"] == "header"]
        assert "Idempotency-Key" in headers, place


def test_the_schema_is_served(client):
    answer = client.get(reverse("api:schema"), headers={"Accept": "application/vnd.oai.openapi"})
    assert answer.status_code == 200


def test_the_committed_schema_of_cases_is_the_one_the_code_checks_with():
    committed = (ROOT / "fixtures" / "case.schema.json").read_text(encoding="utf-8")
    assert committed == json_schema_text(), "Run manage.py write_case_schema."
