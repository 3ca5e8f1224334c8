"""Parts of some bytes, by the examples and rules of RFC 9110, 14."""

from __future__ import annotations

import pytest
from django.test import RequestFactory
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.http.ranges import UnsatisfiableError, range_of, ranged

DATA = bytes(range(256)) * 40  # 10240 bytes
TAG = '"one"'


def asked(**headers):
    return ranged(RequestFactory().get("/", headers=headers), DATA, "audio/flac", TAG)


@pytest.mark.parametrize(
    ("header", "found"),
    [  # RFC 9110, 14.1.2: examples for a representation of 10000 bytes
        ("bytes=0-499", (0, 499)),
        ("bytes=500-999", (500, 999)),
        ("bytes=-500", (9500, 9999)),
        ("bytes=9500-", (9500, 9999)),
        ("bytes=0-99999", (0, 9999)),
        ("bytes=-99999", (0, 9999)),
    ],
)
def test_the_standards_examples(header, found):
    assert range_of(header, 10_000) == found


@pytest.mark.parametrize(
    "header", ["", "bytes=-", "bytes=5-2", "bytes=0-1,5-6", "lines=0-1", "bytes=a-b", "bytes=0"]
)
def test_what_is_not_one_range_of_bytes_is_ignored(header):
    assert range_of(header, 100) is None


@pytest.mark.parametrize("header", ["bytes=100-", "bytes=100-200", "bytes=-0"])
def test_a_range_of_which_no_byte_exists_cannot_be_had(header):
    with pytest.raises(UnsatisfiableError):
        range_of(header, 100)


@given(st.integers(0, 20_000), st.integers(0, 20_000))
def test_a_part_is_the_bytes_it_says(first, last):
    answer = asked(Range=f"bytes={first}-{last}")
    if last < first:
        assert answer.content == DATA
    elif first >= len(DATA):
        assert (answer.status_code, answer["Content-Range"]) == (416, f"bytes */{len(DATA)}")
    else:
        end = min(last, len(DATA) - 1)
        assert answer.status_code == 206
        assert answer.content == DATA[first : end + 1]
        assert answer["Content-Range"] == f"bytes {first}-{end}/{len(DATA)}"


def test_without_a_range_all_is_sent_and_ranges_are_offered():
    answer = asked()
    assert (answer.status_code, answer.content, answer["Accept-Ranges"]) == (200, DATA, "bytes")


def test_a_range_of_another_version_is_answered_with_all():
    assert asked(Range="bytes=0-1", If_Range='"other"').status_code == 200
    assert asked(Range="bytes=0-1", If_Range=TAG).status_code == 206


def test_what_is_known_already_is_not_sent_again():
    answer = asked(If_None_Match=TAG)
    assert (answer.status_code, answer.content) == (304, b"")
