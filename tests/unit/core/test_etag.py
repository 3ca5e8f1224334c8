"""Conditional writes: RFC 9110 section 13.1.1 (If-Match) and RFC 6585 section 3 (428)."""

from __future__ import annotations

import pytest

from casebank.core.http.etag import (
    PreconditionFailedError,
    PreconditionRequiredError,
    etag_of,
    is_unchanged,
    require_match,
)


@pytest.mark.parametrize("header", ['"7"', '"6", "7"', "*", ' "7" '])
def test_the_version_one_has_read_may_be_written(header):
    require_match({"If-Match": header}, 7)


@pytest.mark.parametrize("header", ['"6"', 'W/"7"', "7", '"77"'])
def test_another_version_a_weak_tag_or_an_unquoted_one_fails(header):
    with pytest.raises(PreconditionFailedError) as raised:
        require_match({"If-Match": header}, 7)
    assert raised.value.status_code == 412


def test_a_write_without_a_tag_is_told_to_read_first():
    with pytest.raises(PreconditionRequiredError) as raised:
        require_match({}, 7)
    assert raised.value.status_code == 428


def test_a_reader_who_has_the_version_needs_no_body():
    assert etag_of(7) == '"7"'
    assert is_unchanged({"If-None-Match": 'W/"7"'}, 7)
    assert not is_unchanged({"If-None-Match": '"6"'}, 7)
    assert not is_unchanged({}, 7)
